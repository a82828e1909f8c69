"""What is to become of a file of the table, said before it is made."""
import dataclasses


@dataclasses.dataclass(frozen=True)
class Outcome:
    status: int  # exit status
    words: str = ""  # on standard error where the page is refused, else in the findings
    finds_box: bool = False  # the one finding of the table's page, and no other of its check
    large: bool = False  # declares more than 25 megapixels


def inspected(words=""):
    """The box is found, which is at `fix`."""
    return Outcome(1, words, finds_box=True)


def judged(words):
    """Inspected, and found to be something else than the table's page: `words` are in the findings."""
    return Outcome(1, words)


def noted(words):
    """Inspected, and only notes made: a canvas larger than the job's, specks that are strewn over the page."""
    return Outcome(0, words)


def refused(words):
    return Outcome(3, words)


def misused(words):
    return Outcome(2, words)


@dataclasses.dataclass
class Case:
    group: str
    name: str  # of the file
    make: object  # its bytes, or a function that makes what has to be there in the folder given
    outcome: Outcome
    flags: list = dataclasses.field(default_factory=list)
    argument: object = None  # what is named on the command line; the file where nothing is said
    wrapped: str = ""  # a line of sh that runs "$@"
    meanwhile: object = None  # called with the folder once the program runs
    job: list = None  # flags of the job, where it is not the table's page's
    slow: bool = False  # left out where time is short, as the large ones are
