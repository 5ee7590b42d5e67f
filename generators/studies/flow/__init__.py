"""The flow study."""
