"""How the parts of the reader say that the language or the dialect does not allow something."""


class Refusal(Exception):
    """A line cannot be read. Carries a code of `findings.CODES` and one sentence; the reader adds file and line.

    Never leaves the reader: `interpret.read_program` turns it into a finding and stops there.
    """

    def __init__(self, code: str, reason: str) -> None:
        self.code = code
        self.reason = reason
        super().__init__(reason)
