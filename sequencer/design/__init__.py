"""Does the drawing hold together? Joints place the parts; what does not add up is a finding with its figures."""
