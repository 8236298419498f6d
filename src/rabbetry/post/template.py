"""The doorway to the template engine: what a template may use, and what is wrong with one before anything is rendered.

A template is Jinja2, run in a sandbox. It owns every word that is emitted; the numbers come ready-rounded.
"""

import difflib
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any

from jinja2 import StrictUndefined, Template, TemplateSyntaxError, nodes
from jinja2.meta import find_undeclared_variables
from jinja2.sandbox import SandboxedEnvironment

from rabbetry.errors import Fault
from rabbetry.post.words import faults_of_line, is_code_word

TEMPLATE_NAMES: tuple[tuple[str, str], ...] = (
    ("comment(...)", "writes its parts as one comment: plain ASCII, no brackets inside, cut to the line limit"),
    ("number(...)", "writes a value worked out in the template as lengths are written: number(safe_z | float + 5)"),
    ("work_offset", "the work offset word of post.toml, such as G54; empty when it says none"),
    ("air", "true for the air run, in which the spindle must stay off: {% if not air %} about all that starts it"),
    ("over", "what a motion over the work begins with: G0, or in the air run G1 and its slow feed"),
    ("spindle_word", "the word that turns the cutter forwards: M3, or M4 on a spindle wired the other way about"),
    ("touch_off", "how Z is touched off and on what, such as `touch off Z on the stock top with paper`"),
    ("rapid_feed", "feed of traverses where post.toml says rapids = feed; else 0"),
    ("program_end", "the word of post.toml that ends the program, such as M30"),
    ("units", "mm or in, as post.toml says"),
    ("program", "file name of this program"),
    ("file_number", "which program of the sheet this is, from 1"),
    ("file_count", "how many programs the sheet has"),
    ("fingerprint", "short hash of all that the program follows from; the job's page shows the same; for comment()"),
    ("job", "name of the job; only for comment()"),
    ("sheet", "name of the sheet, such as birch-18-01; only for comment()"),
    ("stock", "name of the stock; only for comment()"),
    ("blank.x", "size of the blank along X"),
    ("blank.y", "size of the blank along Y"),
    ("blank.thickness", "thickness of the blank"),
    ("blank.measured", "true when the thickness was measured"),
    ("blank.thickness_note", "`measured` or `thickness not measured`"),
    ("z_zero", "what Z is touched off on: `stock top` or `spoilboard`"),
    ("safe_z", "Z that clears every clamp"),
    ("machine_safe_z", "Z near the top of the machine's travel, in its own coordinates: only with G53"),
    ("stock_top_z", "Z of the blank's upper face"),
    ("spoilboard_z", "Z of the spoilboard's top"),
    ("wait", "how long the spindle needs to come up to speed, in the unit of post.toml's dwell"),
    ("park.x", "where to go at the end, X; `park` is empty when the machine stays where it is"),
    ("park.y", "where to go at the end, Y"),
    ("notes", "what to know before the run, such as which side of a flipped blank this is; often empty; for comment()"),
    ("runs", "what each cutter does, in order; a single run where each cutter has a program of its own"),
    ("run.number", "number of the cutter"),
    ("run.cutter", "name of the cutter; only for comment()"),
    ("run.kind", "end mill, compression, down-cut or drill"),
    ("run.diameter", "diameter of the cutter"),
    ("run.rpm", "spindle speed"),
    ("run.dial", "mark on the dial of a hand-set spindle; empty when there is none"),
    ("run.start.x", "where the cutter starts, X"),
    ("run.start.y", "where the cutter starts, Y"),
    ("run.is_first", "true for the first run of this program"),
    ("run.is_last", "true for the last run of this program"),
    ("run.steps", "the operations of the run, in order"),
    ("step.number", "number of the operation, counted through the whole sheet"),
    ("step.name", "what is cut, such as `B3 left side: bottom dado`; only for comment()"),
    ("step.panel", "the panel it belongs to; only for comment()"),
    ("step.kind", "drill, spiral bore, pocket, groove, cut-out or profile"),
    ("step.moves", "the moves of the operation, in order"),
    ("move.kind", "traverse, feed, arc cw, arc ccw, drill, peck or drill end"),
    ("move.x", "X, or empty where it has not changed; y and z alike"),
    ("move.y", "Y"),
    ("move.z", "Z; of a hole, its bottom"),
    ("move.i", "arc centre from the start along X (empty when post.toml asks for radius)"),
    ("move.j", "arc centre from the start along Y"),
    ("move.r", "radius of an arc, or the level a drill feeds down from"),
    ("move.q", "depth of one peck"),
    ("move.f", "feed, or empty where it has not changed"),
    ("move.lifts", "true when a drill lifts to the clear height after the hole, not just to r"),
)
"""What a template may use, with its meaning; docs are made from it. Numbers are text, ready to follow a letter."""

WORDS_FILTER = (
    "words",
    'move | words("G1 X Y Z F") writes each letter with its number, leaving out those that have not changed; '
    "a word with a number, such as G1, is written where it changes, or on every line if post.toml says so. "
    "P=q writes the letter P with the number q",
)

_TOOLS = ("namespace", "range")
"""What templates keep of the engine's own names: counters and short loops."""
_NAMES = {name.removesuffix("(...)") for name, _ in TEMPLATE_NAMES}
ROOTS = {name.split(".")[0] for name in _NAMES} - {"run", "step", "move"}
_ATTRIBUTES = {part for name in _NAMES for part in name.split(".")[1:]}
_NUMBER_LETTERS = sorted(part.upper() for part in _ATTRIBUTES if len(part) == 1)
_LOOP = {
    "index",
    "index0",
    "first",
    "last",
    "length",
    "previtem",
    "nextitem",
    "revindex",
    "revindex0",
    "depth",
    "changed",
}
_TURN = "_turn"
"""Called by every loop and macro each time round: see `turn_counter`."""
_LARGEST = 1e15
"""Of a product or power: numbers grow without end when a loop squares them."""
_LONGEST = 10_000
"""Of a text repeated."""
_GAP, _BLOCK = "\x01", "\x02"
"""Stand for an expression and for a block in the template's literal lines."""


class Engine(SandboxedEnvironment):
    """The template engine as posts use it: an unknown name is an error, line ends are kept, nothing is escaped.

    Beyond the sandbox: brackets reach no methods, and products stay within bounds.
    """

    intercepted_binops = frozenset(("*", "**"))

    def __init__(self) -> None:
        super().__init__(
            undefined=StrictUndefined,
            autoescape=False,
            keep_trailing_newline=True,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        self.globals = {name: self.globals[name] for name in _TOOLS}
        self.filters["words"] = words

    def getitem(self, obj: Any, argument: Any) -> Any:
        """Return `obj[argument]`; a name in brackets finds only what a name after a dot may."""
        if isinstance(argument, str) and not isinstance(obj, dict) and argument not in _ATTRIBUTES:
            return self.undefined(obj=obj, name=argument)
        return super().getitem(obj, argument)

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """Return a product or power of numbers, or a text repeated. Raises ValueError for others or when too large."""
        if operator == "*" and isinstance(left, str) and isinstance(right, int) and len(left) * right <= _LONGEST:
            return left * right
        if not (isinstance(left, int | float) and isinstance(right, int | float)):
            raise ValueError(f"{operator} is for numbers, or a text repeated a few times")
        if operator == "**" and abs(right) > 20:
            raise ValueError(f"the power {right:g} is more than 20")
        result = super().call_binop(context, operator, left, right)
        if isinstance(result, complex) or abs(result) > _LARGEST:
            raise ValueError(f"the result of {operator} is no number up to {_LARGEST:g}")
        return result


def turn_counter(most: int) -> dict[str, Callable[[], None]]:
    """Return what a rendering's context needs so that all its loops and macros together turn `most` times at most."""
    left = most

    def turn() -> None:
        nonlocal left
        left -= 1
        if left < 0:
            raise ValueError(f"its loops turn more than {most} times, far more than there are moves")

    return {_TURN: turn}


def words(move: object, spec: str) -> str:
    """Return the words of one move; see WORDS_FILTER."""
    written = []
    for token, letter, part in _parsed(spec):
        if not part:
            if getattr(move, "says_word", True):
                written.append(token)
            continue
        number = getattr(move, part)
        if number != "":
            written.append(letter + number)
    return " ".join(written)


@lru_cache(maxsize=256)
def _parsed(spec: str) -> tuple[tuple[str, str, str], ...]:
    rows = []
    for token in spec.split():
        letter, _, name = token.partition("=")
        is_code = any(character.isdigit() for character in token) and not name
        rows.append((token, letter, "" if is_code else name or letter.lower()))
    return tuple(rows)


@lru_cache(maxsize=16)
def compiled(source: str, file: str) -> Template:
    """Return the template, ready to render. Raises TemplateSyntaxError; `check_template` tells of it in words."""
    engine = Engine()
    tree = engine.parse(source, name=file, filename=file)
    loops: list[nodes.For | nodes.Macro | nodes.CallBlock] = []
    loops += [*tree.find_all(nodes.For), *tree.find_all(nodes.Macro), *tree.find_all(nodes.CallBlock)]
    for item in loops:
        call = nodes.Call(nodes.Name(_TURN, "load"), [], [], None, None)
        item.body.insert(0, nodes.ExprStmt(call).set_lineno(item.lineno))
    code = engine.compile(tree, name=file, filename=file)
    return Template.from_code(engine, code, engine.make_globals(None), None)


def check_template(source: str, file: str, allowed: frozenset[str] | None) -> list[Fault]:
    """Return what is wrong with a template, by line: syntax, unknown names, words that are not in `allowed`.

    `allowed` holds code words (G1) and other letters (X); None when the list itself could not be read.
    """
    engine = Engine()
    try:
        tree = engine.parse(source, name=file, filename=file)
        compiled(source, file)
    except TemplateSyntaxError as error:
        return [_syntax_fault(error, file, engine)]
    except (RecursionError, MemoryError, SyntaxError, ValueError, OverflowError) as error:
        # The engine's own compiler gives up: brackets nested by the hundred, or a number of thousands of digits.
        problem = f"cannot be compiled: {type(error).__name__}"
        return [Fault(file=file, place="", problem=problem, cure="is it the right file? write it more simply")]
    found = list(_unknown_names(tree, file))
    found.extend(_odd_characters(source, file))
    if allowed is not None:
        found.extend(_wrong_words(engine, source, file, allowed))
        found.extend(_wrong_constants(tree, file, allowed))
    return list(dict.fromkeys(sorted(found, key=lambda fault: (int(fault.place.split()[1]), fault.problem))))


@lru_cache(maxsize=8)
def names_in(source: str) -> frozenset[str]:
    """Return the names a sound template takes from outside."""
    return frozenset(find_undeclared_variables(Engine().parse(source)))


def _syntax_fault(error: TemplateSyntaxError, file: str, engine: Engine) -> Fault:
    said = error.message or "is not a template"
    cure = ""
    if said.startswith("No filter named"):
        name = said.split("'")[1]
        near = difflib.get_close_matches(name, sorted(engine.filters), n=1)
        cure = f'did you mean "{near[0]}"?' if near else ""
    return Fault(file=file, place=f"line {error.lineno}", problem=said.rstrip("."), cure=cure)


def _unknown_names(tree: nodes.Template, file: str) -> Iterator[Fault]:
    undeclared = find_undeclared_variables(tree) - ROOTS - set(_TOOLS)
    counters = {
        item.target.name
        for item in tree.find_all(nodes.Assign)
        if isinstance(item.target, nodes.Name)
        and isinstance(item.node, nodes.Call)
        and isinstance(item.node.node, nodes.Name)
        and item.node.node.name == "namespace"
    }
    for name in tree.find_all(nodes.Name):
        if name.name in undeclared:
            yield _unknown(name.name, sorted(ROOTS), name.lineno, file)
    for item in tree.find_all(nodes.Getattr):
        holder = item.node.name if isinstance(item.node, nodes.Name) else ""
        if holder in counters:
            continue
        known = _LOOP if holder == "loop" else _ATTRIBUTES
        if holder in ROOTS or holder in ("run", "step", "move"):
            known = {name.split(".")[1] for name in _NAMES if name.startswith(f"{holder}.")} or _ATTRIBUTES
        if item.attr not in known:
            yield _unknown(f"{holder}.{item.attr}" if holder else item.attr, sorted(known), item.lineno, file)
    for call in tree.find_all(nodes.Filter):
        if call.name == "words" and call.args and isinstance(call.args[0], nodes.Const):
            for token, _letter, part in _parsed(str(call.args[0].value)):
                if part and part not in _ATTRIBUTES:
                    yield _unknown(token, _NUMBER_LETTERS, call.lineno, file)


def _unknown(name: str, known: list[str], line: int, file: str) -> Fault:
    last = name.rsplit(".", maxsplit=1)[-1]
    if last in known:
        return Fault(file=file, place=f"line {line}", problem=f'"{name}" is known, but not of what stands before it')
    near = difflib.get_close_matches(last, known, n=1)
    cure = f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(known)}"
    return Fault(file=file, place=f"line {line}", problem=f'"{name}" is not known to templates', cure=cure)


def unknown_at_run_time(message: str, line: int, file: str) -> Fault:
    """Return the fault for a name that turned out undefined while rendering; `message` is the engine's."""
    name = message.split("'")[-2] if message.count("'") >= 2 else message
    return _unknown(name, sorted(ROOTS | _ATTRIBUTES), line, file)


def _odd_characters(source: str, file: str) -> Iterator[Fault]:
    for number, line in enumerate(_literal_lines(Engine(), source), start=1):
        for character in line:
            if character not in (_GAP, _BLOCK, "\t") and not " " <= character <= "~":
                problem = f"the character {character!r} cannot be sent to a controller"
                yield Fault(file=file, place=f"line {number}", problem=problem, cure="write plain ASCII")
                break


def _wrong_words(engine: Engine, source: str, file: str, allowed: frozenset[str]) -> Iterator[Fault]:
    for number, line in enumerate(_literal_lines(engine, source), start=1):
        if line.strip() == "%":
            continue
        bare = _without_open_words(line)
        for what, _at in faults_of_line(bare, allowed):
            if _BLOCK in line and "list of words" not in what:
                continue
            yield Fault(
                file=file,
                place=f"line {number}",
                problem=f"{' '.join(bare.split())!r}: {what}",
                cure="take it out, put it on a line of its own, or add it to allowed_words if the controller takes it",
            )


def _literal_lines(engine: Engine, source: str) -> list[str]:
    """Return the template's lines with what is emitted literally: an expression is one _GAP, a block is one _BLOCK."""
    text = ""
    depth = ""
    for _line, kind, value in engine.lex(source):
        if kind in ("variable_begin", "block_begin", "comment_begin", "raw_begin"):
            depth = kind
            text += {"variable_begin": _GAP, "block_begin": _BLOCK}.get(kind, "")
        if kind == "data" and not depth:
            text += value
        else:
            text += "\n" * value.count("\n")
        if kind in ("variable_end", "block_end", "comment_end", "raw_end"):
            depth = ""
    return [line.replace(_BLOCK, "") if not line.strip(f"{_BLOCK} ") else line for line in text.split("\n")]


def _without_open_words(line: str) -> str:
    """Blank out words whose number comes from an expression: `G{{ n }}` may be any word."""
    kept = list(line)
    for at, character in enumerate(line):
        if character in (_GAP, _BLOCK):
            kept[at] = " "
            back = at - 1
            while character == _GAP and back >= 0 and (line[back].isdigit() or line[back] == "."):
                back -= 1
            if character == _GAP and back >= 0 and line[back].upper() in "GM":
                kept[back:at] = " " * (at - back)
    return "".join(kept)


def _wrong_constants(tree: nodes.Template, file: str, allowed: frozenset[str]) -> Iterator[Fault]:
    for const in tree.find_all(nodes.Const):
        if not isinstance(const.value, str):
            continue
        for token in const.value.split():
            if is_code_word(token) and token not in allowed:
                problem = f'the word "{token}" is not in the post\'s list of words'
                yield Fault(
                    file=file,
                    place=f"line {const.lineno}",
                    problem=problem,
                    cure="take it out, or add it to allowed_words if the controller takes it",
                )
