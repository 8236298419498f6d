"""What a controller accepts, read from `post.toml`, together with the template that says what is emitted."""

import difflib
import tomllib
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator

from rabbetry.errors import Fault, InputError
from rabbetry.post.comments import CommentForm
from rabbetry.post.numbers import Numbers
from rabbetry.post.template import check_template, names_in
from rabbetry.post.words import is_code_word

POST_FILE = "post.toml"
TEMPLATE_FILE = "program.nc.j2"

ArcForm = Literal["centre", "radius", "none"]
ToolChange = Literal["word", "file", "pause"]
SpindleStart = Literal["word", "reversed", "hand"]
TouchOff = Literal["any", "paper", "plate"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """A post-processor: what the controller accepts and the template of its programs, both checked."""

    name: str
    title: str
    description: str
    units: Literal["mm", "in"]
    length_decimals: int
    feed_decimals: int
    trim_zeros: bool
    arcs: ArcForm
    cycles: tuple[str, ...]
    comments: CommentForm
    forbidden_in_comments: str
    line_limit: int | None
    """Most characters of a line, line end counted; None: no limit."""
    line_end: Literal["lf", "crlf"]
    extension: str
    dwell: Literal["s", "ms"]
    tool_change: ToolChange
    spindle: SpindleStart
    repeat_words: bool
    line_numbers: int
    """Step of the N words; 0: none."""
    percent_lines: bool
    allowed_words: tuple[str, ...]
    """The G and M words the controller takes."""
    letters: str
    """The other letters a program may use."""
    work_offset: str
    """The word that calls it; empty: the controller has no such word."""
    program_end: str
    dialect: str
    template: str
    name_length: int | None = None
    """Most letters of a program's file name, its ending not counted; None: no limit worth a word."""
    touch_off: TouchOff = "any"
    safe_height: Literal["work", "machine"] = "work"
    """Whether the first and last lift go to a height above the work, or to one of the machine's own."""
    rapids: Literal["traverse", "feed"] = "traverse"
    """Whether the controller has a traverse word, or goes over at a fast feed."""
    rapid_feed: float = 0.0
    """That feed, in the post's unit a minute; 0 with a traverse word."""

    @property
    def numbers(self) -> Numbers:
        return Numbers(
            inch=self.units == "in",
            length_decimals=self.length_decimals,
            feed_decimals=self.feed_decimals,
            trim_zeros=self.trim_zeros,
        )

    @property
    def rapid_feed_mm_per_min(self) -> float | None:
        """Feed of traverses; None where the controller has a word for them."""
        return self.rapid_feed * self.numbers.mm_per_unit if self.rapids == "feed" else None

    @property
    def knows_air_runs(self) -> bool:
        """Whether the template asks if this is an air run: if not, it would start the spindle in it."""
        return "air" in names_in(self.template)

    @property
    def spindle_word(self) -> str:
        """The word that turns the cutter forwards; empty where hands do it."""
        return {"word": "M3", "reversed": "M4", "hand": ""}[self.spindle]

    @property
    def dwell_unit_s(self) -> float:
        """What P of a wait counts, in seconds."""
        return 0.001 if self.dwell == "ms" else 1.0

    @property
    def template_file(self) -> str:
        """The template's name in messages."""
        return f"{self.name}/{TEMPLATE_FILE}"

    @property
    def line_end_text(self) -> str:
        return "\r\n" if self.line_end == "crlf" else "\n"

    @property
    def longest_line(self) -> int | None:
        """Most characters of a line without its line end; None: no limit."""
        return None if self.line_limit is None else self.line_limit - len(self.line_end_text)


class _PostTable(BaseModel):
    """The keys of `post.toml`; the description of each is its documentation."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    title: str = Field(min_length=1, description="one line: what the controller is like")
    description: str = Field(min_length=1, description="a few lines: what it accepts and how it is used")
    dialect: Literal["strict", "lenient", "small-firmware"] = Field(
        description="how the dry run reads the programs: as the controller would"
    )
    units: Literal["mm", "in"] = Field(description="unit of all lengths and feeds in the program")
    length_decimals: Annotated[int, Field(ge=2, le=6)] = Field(description="decimal places of lengths")
    feed_decimals: Annotated[int, Field(ge=0, le=4)] = Field(description="decimal places of feeds")
    trim_zeros: bool = Field(True, description="true: X10.5; false: X10.5000 (for controllers that need the point)")
    arcs: ArcForm = Field(description="centre: I and J from the start; radius: R; none: arcs become short lines")
    cycles: list[Literal["G81", "G83"]] = Field(
        default_factory=list, description="drilling cycles it knows; [] for none"
    )
    comments: CommentForm = Field(description="brackets, semicolon or none")
    forbidden_in_comments: str = Field("%!~?$;", description="characters never sent, even in a comment")
    line_limit: Annotated[int, Field(ge=40, le=1000)] | None = Field(
        None, description="most characters of a line, line end counted; leave out for no limit"
    )
    line_end: Literal["lf", "crlf"] = Field("lf", description="how lines end")
    extension: str = Field(".nc", pattern=r"^\.[A-Za-z0-9]{1,8}$", description="ending of the program's file name")
    dwell: Literal["s", "ms"] = Field("s", description="unit of the wait (P of G4)")
    tool_change: ToolChange = Field(
        description="word: T and M6 in one program; file: a program per cutter; pause: one program with a stop"
    )
    spindle: SpindleStart = Field(
        description="word: M3 turns it forwards; reversed: it is wired the other way about, and M4 does; hand: a "
        "switch and a dial"
    )
    repeat_words: bool = Field(True, description="true: every line says G0, G1, G2 or G3; false: only where it changes")
    line_numbers: Annotated[int, Field(ge=0, le=1000)] = Field(0, description="step of N words; 0 for none")
    percent_lines: bool = Field(False, description="whether a line may hold a per cent sign alone")
    work_offset: Literal["G54", "G55", "G56", "G57", "G58", "G59", "none"] = Field(
        "G54", description="word of the work offset; none: the controller has a single one and no word for it"
    )
    name_length: Annotated[int, Field(ge=8, le=80)] | None = Field(
        None, description="most letters of a program's file name, its ending not counted; leave out for no limit"
    )
    touch_off: TouchOff = Field(
        "any", description="how Z is touched off, as the program's head says it: paper, plate or any"
    )
    safe_height: Literal["work", "machine"] = Field(
        "work", description="where the first and last lift go: above the work, or (G53) to the top of the machine's Z"
    )
    rapids: Literal["traverse", "feed"] = Field(
        "traverse", description="traverse: G0; feed: the controller has none, G1 goes over at rapid_feed"
    )
    rapid_feed: Annotated[float, Field(ge=0)] = Field(0.0, description="feed of G1 in place of G0, units a minute")
    program_end: Literal["M2", "M30"] = Field("M30", description="word that ends the program")
    allowed_words: list[str] = Field(min_length=1, description="every G and M word the template may use")
    letters: str = Field("F I J N P Q R S T X Y Z", description="the other letters the template may use")

    @field_validator("allowed_words")
    @classmethod
    def _are_words(cls, words: list[str]) -> list[str]:
        for word in words:
            if not is_code_word(word):
                raise ValueError(f'"{word}" is not a G or M word such as "G1" or "M3"')
        return words


POST_KEYS: tuple[tuple[str, str], ...] = tuple(
    (name, field.description or "") for name, field in _PostTable.model_fields.items()
)
"""Every key of `post.toml` with its meaning; docs are made from it."""


def read_post(name: str, post_toml: str, template: str) -> Post:
    """Read a post from the text of its two files. Raises InputError with every fault of both files."""
    file = f"{name}/{POST_FILE}"
    table, faults = _read_table(post_toml, file)
    words = None if table is None else frozenset((*table.allowed_words, *table.letters.split()))
    faults.extend(check_template(template, f"{name}/{TEMPLATE_FILE}", words))
    if table is not None:
        faults.extend(_contradictions(table, file))
    if faults or table is None:
        raise InputError(*faults)
    fields = table.model_dump()
    fields["cycles"] = tuple(table.cycles)
    fields["allowed_words"] = tuple(table.allowed_words)
    fields["work_offset"] = "" if table.work_offset == "none" else table.work_offset
    fields["letters"] = "".join(table.letters.split())
    return Post(name=name, template=template, **fields)


def _read_table(text: str, file: str) -> tuple[_PostTable | None, list[Fault]]:
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, [Fault(file=file, place="", problem=f"is not TOML: {error}")]
    try:
        return _PostTable.model_validate(values), []
    except ValidationError as error:
        return None, [_fault(item, values, file) for item in error.errors()]


def _fault(item: Any, values: dict[str, Any], file: str) -> Fault:
    key = str(item["loc"][0])
    if item["type"] == "extra_forbidden":
        near = difflib.get_close_matches(key, [name for name, _ in POST_KEYS], n=1)
        return Fault(
            file=file,
            place=key,
            problem="there is no such setting",
            cure=f'did you mean "{near[0]}"?'
            if near
            else f"the settings are {', '.join(name for name, _ in POST_KEYS)}",
        )
    meaning = dict(POST_KEYS)[key]
    if item["type"] == "missing":
        return Fault(file=file, place=key, problem="is missing", cure=f"give it: {meaning}")
    said = item["msg"].removeprefix("Value error, ")
    said = said[:1].lower() + said[1:]
    return Fault(file=file, place=key, problem=f"{values[key]!r}: {said}", cure=f"meaning: {meaning}")


def _contradictions(table: _PostTable, file: str) -> list[Fault]:
    """Return what each setting alone cannot show: a word that the settings need but the list of words lacks."""
    needed: list[tuple[str, str]] = [
        (table.program_end, "program_end"),
        *((word, "cycles") for word in table.cycles),
        ("G20" if table.units == "in" else "G21", "units"),
    ]
    if table.spindle != "hand":
        needed += [("M3" if table.spindle == "word" else "M4", "spindle"), ("M5", "spindle")]
    if table.work_offset != "none":
        needed.append((table.work_offset, "work_offset"))
    if table.safe_height == "machine":
        needed.append(("G53", "safe_height"))
    needed.append(("G0" if table.rapids == "traverse" else "G1", "rapids"))
    if table.tool_change != "file":
        needed.append(("M6" if table.tool_change == "word" else "M0", "tool_change"))
    faults = [_rapid_fault(table, file)] if (table.rapids == "feed") != (table.rapid_feed > 0) else []
    return faults + [
        Fault(
            file=file,
            place=key,
            problem=f"needs {word}, which allowed_words does not list",
            cure="add it or change the setting",
        )
        for word, key in needed
        if word not in table.allowed_words
    ]


def _rapid_fault(table: _PostTable, file: str) -> Fault:
    problem = f"is {table.rapid_feed:g} with rapids = {table.rapids!r}"
    return Fault(file=file, place="rapid_feed", problem=problem, cure="give it just where rapids is feed, above 0")
