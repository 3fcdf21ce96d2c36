"""The errors a person meets: one base, four kinds, every text says what to try next."""


class LatheworksError(ValueError):
    """Something asked of Latheworks cannot be done as asked; the text says what was given, expected, and to try."""


class WrongUnit(LatheworksError):
    """A value of the wrong kind or dimension, such as a bare number where a length is needed."""


class OutOfRange(LatheworksError):
    """A value of the right kind that is too small, too large, or not a finite number."""


class NotInTable(LatheworksError):
    """A name or a designation that no table here lists."""


class Impossible(LatheworksError):
    """Values that are each fine, but that no real part or machine could have together."""
