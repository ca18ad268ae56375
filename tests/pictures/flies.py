"""One plain fly in each style, to be drawn."""

from __future__ import annotations

from tests.real import fly, rulebook
from variants.model import Dressing
from variants.reading import TomlDocument, parse_dressing

_THREAD = ("polyester tying thread", "brown")
_FLIES: dict[str, dict[str, tuple[str, ...]]] = {
    "dry upright": {
        "hook": ("dry fly hook",),
        "wing": ("duck wing quill",),
        "tail": ("rooster-neck-dry", "ginger"),
        "rib": ("gold wire",),
        "body": ("fine synthetic dubbing", "medium olive"),
        "hackle": ("rooster-neck-dry", "ginger"),
    },
    "down-wing": {
        "hook": ("dry fly hook",),
        "body": ("fine synthetic dubbing", "olive"),
        "palmer": ("rooster-neck-dry", "brown"),
        "wing": ("elk-yearling",),
        "hackle": ("rooster-neck-dry", "brown"),
    },
    "spinner": {
        "hook": ("dry fly hook",),
        "tail": ("synthetic-tail-fibre", "medium dun"),
        "body": ("fine synthetic dubbing", "brown"),
        "wing": ("poly-yarn", "white"),
        "thorax": ("fine synthetic dubbing", "brown"),
    },
    "parachute": {
        "hook": ("dry fly hook",),
        "post": ("calf-body", "white"),
        "tail": ("rooster-neck-dry", "badger"),
        "body": ("fine synthetic dubbing", "tan"),
        "hackle": ("rooster-neck-dry", "badger"),
    },
    "palmer": {
        "hook": ("dry fly hook",),
        "rib": ("gold wire",),
        "body": ("peacock herl",),
        "palmer": ("rooster-neck-dry", "brown"),
        "hackle": ("rooster-neck-dry", "brown"),
    },
    "winged wet": {
        "hook": ("wet fly hook",),
        "tail": ("golden pheasant tippet",),
        "rib": ("oval gold tinsel",),
        "body": ("silk floss", "claret"),
        "hackle": ("hen-neck", "brown"),
        "wing": ("turkey-mottled",),
    },
    "soft hackle": {
        "hook": ("wet fly hook",),
        "rib": ("gold wire",),
        "body": ("silk floss", "orange"),
        "thorax": ("hares-mask",),
        "hackle": ("partridge-brown",),
    },
    "nymph": {
        "hook": ("nymph hook",),
        "tail": ("pheasant-tail-cock",),
        "rib": ("gold wire",),
        "body": ("hares-mask",),
        "wing-case": ("pheasant-tail-cock",),
        "thorax": ("hares-mask",),
        "legs": ("partridge-brown",),
    },
    "emerger": {
        "hook": ("dry fly hook",),
        "shuck": ("trilobal-dubbing", "amber"),
        "body": ("fine synthetic dubbing", "olive"),
        "wing": ("cdc",),
        "thorax": ("hares-mask",),
    },
    "streamer": {
        "hook": ("streamer hook",),
        "rib": ("oval silver tinsel",),
        "body": ("flat silver tinsel",),
        "throat": ("hen-neck", "red"),
        "wing": ("bucktail", "white"),
    },
}
STYLES = sorted(_FLIES)


def styled(style: str, size: int) -> Dressing:
    """Return the plain fly of a style on a hook of some size."""
    tables = []
    for part, (material, *colour) in {**_FLIES[style], "thread": _THREAD}.items():
        lines = [f"[part.{part}]", f'material = "{material}"']
        lines += [f'colour = "{colour[0]}"'] if colour else []
        tables.append("\n".join(lines))
    head = f'name = "Trial"\nstyle = "{style}"\nsizes = "{size}"\n'
    return parse_dressing(TomlDocument(head + "\n".join(tables), "trial.toml"), rulebook().trade)


def rib_of(style: str) -> bool:
    """Tell whether the plain fly of a style is ribbed."""
    return "rib" in _FLIES[style]


def hooked(model: str, size: int) -> Dressing:
    """Return a plain fly on some model of hook."""
    parts = {"hook": f"hook-{model}", "thread": "polyester tying thread, black",
             "body": "fine synthetic dubbing, olive", "thorax": "hares-mask"}  # fmt: skip
    return fly(parts, "nymph", str(size))


def beaded(size: int) -> Dressing:
    """Return a nymph with a bead."""
    parts = {"hook": "hook-jig", "bead": "brass-bead", "thread": "polyester tying thread, black",
             "tail": "coq-de-leon", "rib": "wire-copper", "body": "pheasant-tail-cock",
             "thorax": "hares-mask"}  # fmt: skip
    return fly(parts, "nymph", str(size))
