"""The words under one label to clauses: what is said of each part, its choices, what goes together.

``peacock herl or black silk, ribbed with gold`` is two clauses, one of body and one of rib; the
first holds two choices. A colour or a size behind a comma belongs to the stuff before it; a colour
without a stuff shares its neighbour's. What the words leave open stays open here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from variants.reading.words.colours import find_colour, is_shade_word
from variants.reading.words.lexicon import Kind, Lexicon, Sense
from variants.reading.words.quantities import Quantities, take_quantities
from variants.reading.words.text import Phrase, Token, join_written, normalize, tokenize
from variants.reading.words.things import Thing, ThingParser

_STEERING = (Kind.OPENS, Kind.CLOSES, Kind.MOVES)
_JOINING = (Kind.AND, Kind.WITH, Kind.OR)
_SIGNS = {
    ",": "comma", ";": "comma", "|": "comma", "/": "slash", "&": "and", "+": "and",
    "(": "opens bracket", ")": "closes bracket", "[": "opens bracket", "]": "closes bracket",
}  # fmt: skip
_SENTENCE = re.compile(r"(?<=[a-z\)\"])\.\s+(?=[A-Z(])|[!?]\s+|\s\*{1,2}\s?")
_ABBREVIATED = re.compile(r"\b([A-Za-z]{1,6})\.(?=\s|$)")
#: Words in brackets that may name a stuff; words that make a label the name of a stuff.
_FEW = 3
_FORMS = frozenset(
    ("feather hackle fibre hair quill herl fur dubbing end strip slip tip and").split()  # noqa: SIM905
)
#: Parts that words behind a comma open by their name alone: "black floss, rib silver".
_OPENERS = frozenset(
    ("rib", "collar", "thorax", "wing-case", "throat", "tag", "butt", "cheek", "eyes", "legs",
     "head", "hot-spot", "feelers", "back", "weed-guard", "overbody")
)  # fmt: skip
_HYPHEN = re.compile(r"(?<=\w)-(?=[A-Za-z])")
_DASH = re.compile(r"\s+-+\s+|\s-|-\s|--+")


@dataclass(slots=True)
class Chunk:
    """Words between two joining words."""

    join: str
    tokens: list[Token] = field(default_factory=list)
    is_bracketed: bool = False


@dataclass(slots=True)
class Clause:
    """What is said of one part.

    Attributes
    ----------
    part : str
    choices : list of list of Thing
        Choices, each of things that go together.
    words : str
    quantities : Quantities
    remarks, unknown : list of str
    refused : list of (str, str)
        Words that can't be had as they are asked for, and why.
    is_opened : bool
        Whether words within another part's opened it.
    """

    part: str
    choices: list[list[Thing]] = field(default_factory=list)
    words: str = ""
    quantities: Quantities = field(default_factory=Quantities)
    remarks: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    refused: list[tuple[str, str]] = field(default_factory=list)
    is_opened: bool = False

    @property
    def things(self) -> list[Thing]:
        """All things of all choices."""
        return [thing for choice in self.choices for thing in choice]


def parse_field(text: str, part: str, parser: ThingParser) -> list[Clause]:
    """Return the clauses of the words under the label of a part."""
    clauses: list[Clause] = []
    for number, sentence in enumerate(_SENTENCE.split(_without_abbreviations(text, parser))):
        if not sentence.strip():
            continue
        found = _parse_sentence(sentence, part, parser)
        if number and not any(clause.things for clause in found if clause.part == part):
            # A later sentence that names nothing is a remark; one that opens a part is a clause.
            opened = [clause for clause in found if clause.is_opened and clause.things]
            if clauses and not opened:
                clauses[0].remarks.append(sentence.strip())
            clauses.extend(opened)
            continue
        if number and clauses:
            merged, *others = found
            if _is_prose(merged):
                clauses[0].remarks.append(sentence.strip())
            else:
                clauses[0].choices[-1:] = [
                    [*(clauses[0].choices or [[]])[-1], *(merged.choices or [[]])[0]]
                ]
                clauses[0].unknown.extend(merged.unknown)
            clauses.extend(others)
        else:
            clauses.extend(found)
    return clauses


def _without_abbreviations(text: str, parser: ThingParser) -> str:
    """Return a text without the full stops of words such as "Dk." and "sub."."""
    spellings = parser.lexicon.spellings
    return _ABBREVIATED.sub(
        lambda found: found[1] if (found[1].lower(),) in spellings else found[0], text
    )


def _is_prose(clause: Clause) -> bool:
    return len(clause.unknown) >= max(2, len(clause.things))


def _parse_sentence(text: str, part: str, parser: ThingParser) -> list[Clause]:
    quantities = take_quantities(text, is_hook=part == "hook")
    words = _DASH.sub(" , ", _HYPHEN.sub(" ", normalize(quantities.words)))
    clauses: list[Clause] = []
    tokens = parser.lexicon.spell_tokens(tokenize(words))
    for clause_part, chunks, is_opened in _split(tokens, part, parser.lexicon):
        clause = _gather(chunks, clause_part, parser)
        clause.is_opened = is_opened
        clauses.append(clause)
    if not clauses:
        clauses.append(Clause(part))
    clauses[0].quantities = quantities
    return clauses


def _split(
    tokens: Sequence[Token], part: str, lexicon: Lexicon
) -> list[tuple[str, list[Chunk], bool]]:
    """Cut words into clauses, each with its chunks."""
    clauses: list[tuple[str, list[Chunk], bool]] = [(part, [Chunk("")], False)]
    depth = 0
    start = 0
    while start < len(tokens):
        whole = _colour_that_joins(tokens, start, clauses[-1][0], lexicon)
        if whole:
            # "Brown with white tip" is one colour: the word within it joins nothing.
            clauses[-1][1][-1].tokens.extend(tokens[start : start + whole])
            start += whole
            continue
        opened = _opened_by_name(tokens, start, clauses, lexicon)
        if opened:
            clauses.append((opened, [Chunk("")], True))
            start += 1
            continue
        sense, length = _steers(tokens, start, clauses[-1][0], lexicon)
        here = list(tokens[start : start + length])
        current_part, chunks, is_opened = clauses[-1]
        if sense is None:
            sign = _SIGNS.get(tokens[start].word)
            if sign is None:
                chunks[-1].tokens.append(tokens[start])
            elif sign == "opens bracket":
                depth += 1
                chunks.append(Chunk("comma", is_bracketed=True))
            elif sign == "closes bracket":
                depth = max(depth - 1, 0)
                chunks.append(Chunk("bracket", is_bracketed=depth > 0))
            else:
                chunks.append(Chunk(sign, is_bracketed=depth > 0))
        elif sense.kind in _JOINING:
            chunks.append(Chunk(sense.kind.value, is_bracketed=depth > 0))
        elif sense.gives == current_part:
            pass
        elif sense.kind is Kind.OPENS:
            clauses.append((sense.gives, [Chunk("")], True))
        elif sense.kind is Kind.MOVES:
            if lexicon.senses_of(tuple(one.word for one in here), "", Kind.MATERIAL) or any(
                one.word in ("bead", "cone") for one in here
            ):
                chunks[-1].tokens.extend(here)
            clauses[-1] = (sense.gives, chunks, is_opened)
        elif chunks[-1].tokens:
            taken = chunks.pop()
            if not chunks:
                chunks.append(Chunk(""))
            clauses.insert(len(clauses), (sense.gives, [Chunk("", taken.tokens)], True))
            clauses.append((current_part, [Chunk("comma")], is_opened))
        start += length
    merged: dict[str, tuple[str, list[Chunk], bool]] = {}
    for clause_part, chunks, is_opened in clauses:
        kept = [chunk for chunk in chunks if chunk.tokens]
        if clause_part in merged:
            merged[clause_part][1].extend(kept)
        elif kept:
            merged[clause_part] = (clause_part, kept, is_opened)
    return list(merged.values())


def _opened_by_name(
    tokens: Sequence[Token],
    start: int,
    clauses: Sequence[tuple[str, list[Chunk], bool]],
    lexicon: Lexicon,
) -> str | None:
    """Return the part that a name behind a comma opens, where words follow it."""
    part, chunks, _ = clauses[-1]
    if start == 0 or tokens[start - 1].word not in ",;" or start + 1 >= len(tokens):
        return None
    following = tokens[start + 1].word
    label = lexicon.labels.get((tokens[start].word,))
    is_one = label in _OPENERS and label != part and following not in _FORMS
    return label if is_one and following[:1].isalnum() and len(chunks) > 0 else None


def _colour_that_joins(tokens: Sequence[Token], start: int, part: str, lexicon: Lexicon) -> int:
    """Return how many words make a colour that has a joining word within; 0 for none."""
    for length in range(min(lexicon.longest_from(tokens[start].word), len(tokens) - start), 2, -1):
        phrase = tuple(token.word for token in tokens[start : start + length])
        joins = any(lexicon.senses_of((word,), part, Kind.WITH) for word in phrase[1:-1])
        if joins and lexicon.senses_of(phrase, part, Kind.COLOUR):
            return length
    return 0


def _steers(
    tokens: Sequence[Token], start: int, part: str, lexicon: Lexicon
) -> tuple[Sense | None, int]:
    """Return the joining or steering sense of the longest phrase at a place, and its length."""
    for length in range(min(lexicon.longest_from(tokens[start].word), len(tokens) - start), 0, -1):
        phrase = tuple(token.word for token in tokens[start : start + length])
        for sense in lexicon.senses_of(phrase, part, *_STEERING, *_JOINING):
            return sense, length
    return None, 1


def _gather(chunks: Sequence[Chunk], part: str, parser: ThingParser) -> Clause:
    """Parse the chunks of a clause and put together what belongs together."""
    clause = Clause(part)
    clause.words = ", ".join(join_written(chunk.tokens) for chunk in chunks)
    choices: list[list[Thing]] = [[]]
    chunks = _join_slashes(chunks, part, parser)
    following = _following_joins(chunks)
    for chunk, join in zip(chunks, following, strict=True):
        thing = parser.parse(chunk.tokens, part)
        if chunk.is_bracketed and (thing.unknown or thing.score <= 0):
            clause.remarks.append(thing.words)
            continue
        before = choices[-1][-1] if choices[-1] else None
        whole = _named_together(before, chunk, part, parser) if before else None
        if whole is not None:
            choices[-1][-1] = whole
        elif thing.is_empty:
            clause.remarks.extend(thing.remarks)
            clause.unknown.extend(thing.unknown)
        elif before is not None and _belongs(thing, before, chunk, parser):
            _attach(thing, before)
            clause.unknown.extend(thing.unknown)
            clause.remarks.extend(thing.remarks)
        elif chunk.is_bracketed and before is not None and before.stuff is not None:
            clause.remarks.append(thing.words)
        elif chunk.is_bracketed and before is not None and _names_bird(thing, chunk):
            # "Grey mottled (mallard)": the words in brackets name the stuff.
            before.stuff, before.others = thing.stuff, thing.others
            before.tokens = (*before.tokens, *thing.tokens)
        else:
            clause.unknown.extend(thing.unknown)
            clause.remarks.extend(thing.remarks)
            if join == "or" and choices[-1]:
                choices.append([thing])
            else:
                choices[-1].append(thing)
    clause.choices = [_compounded(choice, parser) for choice in choices if choice]
    _share_stuff(clause, parser)
    _share_colours(clause)
    return clause


def _compounded(choice: list[Thing], parser: ThingParser) -> list[Thing]:
    """Join "black and brown mottled turkey" into one colour, where the tables have it."""
    for place in range(len(choice) - 1, 0, -1):
        first, second = choice[place - 1], choice[place]
        if first.stuff is not None or first.colour is None:
            continue
        named = [*([second.colour.id] if second.colour else []), *_plain_colours(second, parser)]
        marking = second.marking or first.marking
        marking = marking or (second.colour.marking if second.colour else "")
        found = (
            parser.lexicon.compounds.get((marking, frozenset((first.colour.id, one))))
            for one in named
        )
        colour = next((one for one in found if one is not None), None)
        if colour is not None:
            second.colour, second.colour_sense = colour, None
            second.tokens = (*first.tokens, *second.tokens)
            del choice[place - 1]
    return choice


def _plain_colours(thing: Thing, parser: ThingParser) -> list[str]:
    """Return the colours that single words of a thing name."""
    found = (find_colour((token.word,), "", parser.lexicon) for token in thing.tokens)
    return [one[0].id for one in found if one is not None]


def _join_slashes(chunks: Sequence[Chunk], part: str, parser: ThingParser) -> list[Chunk]:
    """Join "olive/copper chenille" into one colour; parted stuffs stay choices."""
    joined: list[Chunk] = []
    for chunk in chunks:
        if chunk.join == "slash" and joined:
            before = parser.parse(joined[-1].tokens, part)
            after = parser.parse(chunk.tokens, part)
            if (
                before.colour is not None
                and after.colour is not None
                and (
                    before.stuff is None
                    or (after.stuff is None and _ends_in_colour(joined[-1], parser))
                )
            ):
                joined[-1] = replace(joined[-1], tokens=[*joined[-1].tokens, *chunk.tokens])
                continue
            chunk = replace(chunk, join="or")
        joined.append(chunk)
    return joined


def _ends_in_colour(chunk: Chunk, parser: ThingParser) -> bool:
    """Tell whether the last of some words is a colour: "chenille, brown/yellow"."""
    return find_colour((chunk.tokens[-1].word,), "", parser.lexicon) is not None


def _following_joins(chunks: Sequence[Chunk]) -> list[str]:
    """Return how each chunk joins the one before; a comma joins as the next joining word does."""
    joins = [chunk.join for chunk in chunks]
    following = "and"
    for place in range(len(joins) - 1, -1, -1):
        if joins[place] in ("or", "and", "with"):
            following = "or" if joins[place] == "or" else "and"
            joins[place] = following
        elif joins[place] in ("comma", "bracket"):
            joins[place] = following
    return joins


def _names_bird(thing: Thing, chunk: Chunk) -> bool:
    """Tell whether a few words in brackets only name the stuff of the words before them."""
    return thing.colour is None and not thing.remarks and len(chunk.tokens) <= _FEW


def _named_together(before: Thing, chunk: Chunk, part: str, parser: ThingParser) -> Thing | None:
    """Return the one stuff of "peacock quill, stripped": how, behind a comma."""
    words = [token.word for token in chunk.tokens]
    if chunk.join not in ("comma", "bracket") or not words:
        return None
    if before.colour is not None and all(is_shade_word(word) for word in words):
        return parser.parse((*chunk.tokens, *before.tokens), part)
    if before.stuff is None:
        return None
    if before.stuff.missing or any(parser.stuffs.is_noun(word) for word in words):
        return None
    whole = parser.parse((*before.tokens, *chunk.tokens), part)
    if whole.stuff is None or whole.unknown or whole.stuff.is_composed:
        return None
    own = set(whole.stuff.name)
    is_one = set(before.stuff.name) < own and bool(own & set(words))
    return whole if is_one else None


def _belongs(thing: Thing, before: Thing, chunk: Chunk, parser: ThingParser) -> bool:
    """Tell whether words behind a comma only tell more of the stuff before them."""
    if chunk.join not in ("comma", "bracket") or before.stuff is None:
        return False
    if thing.stuff is None:
        return thing.colour is not None and before.colour is None
    if before.colour is None and _is_but_a_colour(thing, before, parser):
        return True
    # The same stuff said again, or its grade: "cock, badger hackle".
    said = set(thing.stuff.name)
    return before.colour is None and said <= {"hackle", "feather", "fibre", "fur", "hair"}


def _is_but_a_colour(thing: Thing, before: Thing, parser: ThingParser) -> bool:
    """Tell whether a stuff of one word, such as copper, is the colour of the stuff before it."""
    phrase = tuple(token.word for token in thing.tokens if token.word[:1].isalnum())
    found = find_colour(phrase, "", parser.lexicon)
    if found is None or before.stuff is None:
        return False
    thing.colour, thing.colour_sense = found
    colours = before.stuff.material.colours
    return found[0].id in colours or "any" in colours


def _attach(thing: Thing, before: Thing) -> None:
    before.colour, before.colour_sense = thing.colour, thing.colour_sense
    before.tokens = (*before.tokens, *thing.tokens)


def _share_stuff(clause: Clause, parser: ThingParser) -> None:
    """Give a colour that stands alone the stuff of its neighbour, where that names a colour too.

    "Black and yellow chenille" is chenille both times; "yellow and herl" is not herl.
    """
    waiting: list[Thing] = []
    last: Thing | None = None
    for choice in clause.choices:
        _part_colours(choice)
    for thing in clause.things:
        if thing.is_none:
            continue
        if thing.stuff is None:
            waiting.append(thing)
            continue
        for one in waiting:
            _share(one, thing, clause.part, parser)
        waiting, last = [], thing
    for one in waiting:
        if last is not None:
            _share(one, last, clause.part, parser)


def _part_colours(choice: list[Thing]) -> None:
    """Part "yellow & white peacock sword", which is not had in white, into three things."""
    for place in range(len(choice) - 1, 0, -1):
        bare, thing = choice[place - 1], choice[place]
        if bare.stuff is None and bare.colour is not None and thing.stuff and thing.colour:
            colours = thing.stuff.material.colours
            if (
                colours
                and "any" not in colours
                and not {bare.colour.id, thing.colour.id} & {*colours}
            ):
                words = tuple(one for one in thing.tokens if one.word not in thing.stuff.name)
                choice.insert(place, Thing(words, colour=thing.colour))
                thing.colour = thing.colour_sense = None


def _share(bare: Thing, thing: Thing, part: str, parser: ThingParser) -> None:
    """Read a bare colour with the words for its neighbour's stuff: "grey or brown partridge"."""
    rest = [token for token in thing.tokens if not _is_shading(token, parser)]
    if thing.colour is None and len(rest) == len(thing.tokens):
        return  # its neighbour names no colour: the bare one is left to custom
    whole = parser.parse((*bare.tokens, *rest), part)
    if whole.stuff is None or whole.unknown or thing.stuff is None:
        return
    if not _animals(thing.stuff.name, parser) <= set(whole.stuff.name):
        return  # other stuff than its neighbour's
    colours = whole.stuff.material.colours
    if whole.colour is None or whole.colour.id in colours or "any" in colours:
        bare.stuff, bare.others, bare.stuff_sense = whole.stuff, whole.others, whole.stuff_sense
        bare.colour, bare.colour_sense = whole.colour, whole.colour_sense
        own = thing.stuff.material.natural_colour if thing.stuff else None
        if own and own in colours and (thing.colour is None or thing.colour.id == own):
            # "Brown and grizzle cock hackle": one stuff in two colours, and not two stuffs.
            thing.stuff, thing.colour = whole.stuff, parser.lexicon.trade.colours[own]


def _animals(name: Phrase, parser: ThingParser) -> set[str]:
    """Return the words of a name that tell the animal: "jungle cock" of its nail feather."""
    pairs = {
        word
        for pair in pairwise(name)
        if parser.lexicon.senses_of(pair, "", Kind.ANIMAL)
        for word in pair
    }
    return pairs | {word for word in name if parser.stuffs.is_animal(word)}


def _is_shading(token: Token, parser: ThingParser) -> bool:
    """Tell whether a word is a colour, or marks or shades one."""
    shading = (Kind.COLOUR, Kind.MARKING, Kind.SHADE)
    senses = parser.lexicon.senses.get((token.word,), ())
    named = any(sense.kind in shading for sense in senses)
    return (named or is_shade_word(token.word)) and not parser.stuffs.is_noun(token.word)


def _share_colours(clause: Clause) -> None:
    """Give "claret mohair or wool" its claret both times."""
    first: Thing | None = None
    for choice in clause.choices:
        for thing in choice:
            if thing.is_none or thing.stuff is None:
                continue
            if (
                first is not None
                and thing.colour is None
                and first.colour is not None
                and (len(clause.choices) > 1)
                and not thing.stuff.is_composed
                and ("any" in thing.stuff.material.colours or "dyed" in first.remarks)
            ):
                thing.colour = first.colour
            first = first or thing
