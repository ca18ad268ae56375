"""A tour of the library, cell by cell, as a notebook would run it.

Run it from the folder that holds ``examples``: ``python examples/tour.py``.
"""

# %% What a tyer starts from: the trade's rules, a dressing, a box.
import variants

rules = variants.load_rules()
dun = variants.load_dressing("examples/dressings/ferrymans-dun.toml", rules)
box = variants.load_box("examples/box.csv", rules)
print(f"{dun.name}, from {len(box.items)} items and {len(rules.rules)} rules")

# %% The otter fur is gone. What comes nearest?
design, found = variants.propose(dun, box, rules, missing=["body"], best=4)
for variant in found:
    print(f"{variant.departure / 1000:.2f}  {variant.chosen['body'].words}")

# %% Why the first one, and what each difference costs.
for part in variants.reasons(design, found[0]).parts:
    for term in part.terms:
        print(f"{part.part}: +{term.cost / 1000:.3f} {term.what}: {term.says} ({term.source})")

# %% How the variants descend from the dressing.
graph = variants.derive(design, found)
for one, other, step in graph.edges(data=True):
    print(f"{one} -> {other}: {step['label']}")

# %% What one fly of it uses.
for use in variants.uses(design, found[0]):
    print(f"{use.part}: {use.how}")

# %% Its picture.
picture = variants.draw(design, found[0])
print(f"an SVG of {len(picture) // 1000} thousand letters")

# %% Another fly, jotted down in plain words.
(jotted,) = variants.read_words(
    "Sedge Lane\nHook: wet fly hook 12\nBody: yellow floss\nHackle: brown hen",
    rules,
    style="soft hackle",
)
design, found = variants.propose(jotted, box, rules, best=1)
print(f"{jotted.name}: departs {found[0].departure / 1000:.2f}")

# %% And when nothing can be tied: what is in the way, and what would help.
design, found = variants.propose(dun, box, rules, keep=["body"])
why, ways = variants.why_not(design)
print("nothing in the box can be: " + ", ".join(why.empty_parts))
for way in ways[:2]:
    print(f"would help: {way.says}, departs {way.variant.departure / 1000:.2f}")
