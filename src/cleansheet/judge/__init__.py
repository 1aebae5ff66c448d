from .accuracy import Accuracy, parse_accuracy
from .judging import judge

__all__ = ["Accuracy", "judge", "parse_accuracy"]
