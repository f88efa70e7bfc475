"""The one error class: input that cannot be used, said in a sentence."""

__all__ = ["InputError"]


class InputError(ValueError):
    """An input that cannot be used, with a sentence that says why and what would be accepted."""
