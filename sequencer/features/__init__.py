"""Feature kinds, one module each; `feature_kinds()` finds them."""

from sequencer.features.base import Dimension, Feature, feature_kinds

__all__ = ["Dimension", "Feature", "feature_kinds"]
