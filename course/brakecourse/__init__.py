"""A training course for the disc-brake job."""

__version__ = "0.1.0"
