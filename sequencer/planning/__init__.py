"""From a checked drawing to a plan: ways, settings, who, blanks, reasons, order, steps."""
