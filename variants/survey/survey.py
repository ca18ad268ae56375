"""A book of dressings against one box or many, on any executor, always in the same order.

Every (dressing, box) pair is a task of its own; tasks travel in bundles, each of one box. A bundle
that a worker does not bring back, because it died on the way, is done in this process: nothing is
lost, and the outlooks are the same whoever worked them out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, as_completed
from dataclasses import dataclass
from functools import lru_cache

from variants.design import Request, stock_of
from variants.model import Box, Dressing
from variants.rulebook import Rulebook
from variants.survey.outlook import Outlook, assess_dressing
from variants.survey.pickling import pack, unpack

#: Dressings in a bundle: few enough that workers end together, enough to be worth the journey.
BUNDLE = 12

#: Hears how many of how many pairs are done.
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked of every dressing alike.

    Attributes
    ----------
    sizes : tuple of int
        Hook sizes to tie; each dressing's own when empty.
    water : str or None
    missing : frozenset of str
        Ids of items or materials that are gone.
    max_changes : int or None
        How many parts may differ.
    at_most : int or None
        Thousandths; what departs more is too far off. By default what the conventions say.
    """

    sizes: tuple[int, ...] = ()
    water: str | None = None
    missing: frozenset[str] = frozenset()
    max_changes: int | None = None
    at_most: int | None = None

    def ceiling(self, rulebook: Rulebook) -> int:
        """Return the thousandths beyond which a variant is too far off."""
        return rulebook.conventions.ceiling if self.at_most is None else self.at_most

    def request(self, dressing: Dressing, box: Box) -> Request:
        """Return the question about one dressing and one box."""
        return Request(
            dressing,
            box,
            self.sizes,
            self.water,
            missing=self.missing,
            max_changes=self.max_changes,
        )


@dataclass(frozen=True, slots=True)
class Survey:
    """All outlooks, box by box, in the order of the dressings; and whether that is all of them.

    Attributes
    ----------
    outlooks : tuple of Outlook
    is_complete : bool
        False when the user broke the survey off: the outlooks are those done by then.
    redone : int
        Bundles that a worker did not bring back and that were done here.
    """

    outlooks: tuple[Outlook, ...]
    is_complete: bool = True
    redone: int = 0


@dataclass(frozen=True, slots=True)
class _Bundle:
    """Dressings of the book, by number, to be judged with one box."""

    box: int
    first: int
    beyond: int


def survey(
    dressings: Sequence[Dressing],
    boxes: Sequence[tuple[str, Box]],
    rulebook: Rulebook,
    wishes: Wishes | None = None,
    executor: Executor | None = None,
    progress: Progress | None = None,
) -> Survey:
    """Return what every box makes of every dressing.

    Parameters
    ----------
    dressings : sequence of Dressing
    boxes : sequence of (name, Box)
    rulebook : Rulebook
    wishes : Wishes, optional
    executor : concurrent.futures.Executor, optional
        Where to work: a process pool, a cluster's executor; without one, here. It is left open.
    progress : callable, optional
        Hears (done, all) after each bundle.

    Notes
    -----
    A box is sorted once for the whole book, and what two materials or colours have been found to
    differ by is remembered from dressing to dressing. Time grows with the number of pairs.
    """
    wishes = wishes or Wishes()
    bundles = [
        _Bundle(box, first, min(first + BUNDLE, len(dressings)))
        for box in range(len(boxes))
        for first in range(0, len(dressings), BUNDLE)
    ]
    work = _Work(dressings, boxes, rulebook, wishes)
    done: dict[_Bundle, tuple[Outlook, ...]] = {}
    redone: list[_Bundle] = []
    is_complete = True
    pairs = len(dressings) * len(boxes)
    try:
        for bundle, outlooks in _judge_bundles(bundles, work, executor, redone):
            done[bundle] = outlooks
            if progress is not None:
                progress(sum(map(len, done.values())), pairs)
    except KeyboardInterrupt:
        is_complete = False
    found = tuple(one for bundle in bundles if bundle in done for one in done[bundle])
    return Survey(found, is_complete, len(redone))


def _judge_bundles(
    bundles: Sequence[_Bundle],
    work: _Work,
    executor: Executor | None,
    redone: list[_Bundle],
) -> Iterator[tuple[_Bundle, tuple[Outlook, ...]]]:
    """Yield each bundle's outlooks as they come; those that get lost are done here at the end."""
    if executor is None:
        for bundle in bundles:
            yield bundle, work.run(bundle)
        return
    waiting: dict[Future[tuple[Outlook, ...]], _Bundle] = {}
    try:
        for bundle in bundles:
            waiting[executor.submit(judge_bundle, *work.task(bundle))] = bundle
    except Exception:
        # The pool broke while it was being filled: what did not get in is done below.
        redone += bundles[len(waiting) :]
    try:
        for future in as_completed(waiting):
            try:
                yield waiting[future], future.result()
            except Exception:
                # Whatever became of the worker, this process can do the work; if the fault is in
                # the work itself, it shows here.
                redone.append(waiting[future])
        for bundle in list(redone):
            yield bundle, work.run(bundle)
    finally:
        for future in waiting:
            future.cancel()


class _Work:
    """What the bundles are made of, packed once for each box."""

    def __init__(
        self,
        dressings: Sequence[Dressing],
        boxes: Sequence[tuple[str, Box]],
        rulebook: Rulebook,
        wishes: Wishes,
    ) -> None:
        self._dressings, self._boxes = dressings, boxes
        self._rulebook, self._wishes = rulebook, wishes
        self._packed: tuple[int, bytes] | None = None
        self._unpack_judge: tuple[int, _BoxJudge] | None = None

    def task(self, bundle: _Bundle) -> tuple[bytes, int, int]:
        """Return the arguments of `judge_bundle`."""
        if self._packed is None or self._packed[0] != bundle.box:
            name, box = self._boxes[bundle.box]
            content = (self._dressings, name, box, self._rulebook, self._wishes)
            self._packed = bundle.box, pack(content)
        return self._packed[1], bundle.first, bundle.beyond

    def run(self, bundle: _Bundle) -> tuple[Outlook, ...]:
        """Return a bundle's outlooks, worked out here."""
        if self._unpack_judge is None or self._unpack_judge[0] != bundle.box:
            name, box = self._boxes[bundle.box]
            self._unpack_judge = (
                bundle.box,
                _BoxJudge(self._dressings, name, box, self._rulebook, self._wishes),
            )
        return self._unpack_judge[1].judge(bundle.first, bundle.beyond)


class _BoxJudge:
    """A box laid out, ready for any dressing of the book."""

    def __init__(
        self,
        dressings: Sequence[Dressing],
        name: str,
        box: Box,
        rulebook: Rulebook,
        wishes: Wishes,
    ) -> None:
        self._dressings, self._name, self._box = dressings, name, box
        self._rulebook, self._wishes = rulebook, wishes
        self._stock = stock_of(box, wishes.missing)

    def judge(self, first: int, beyond: int) -> tuple[Outlook, ...]:
        return tuple(
            assess_dressing(
                self._wishes.request(dressing, self._box),
                self._name,
                self._rulebook,
                self._stock,
                self._wishes.ceiling(self._rulebook),
            )
            for dressing in self._dressings[first:beyond]
        )


def judge_bundle(parcel: bytes, first: int, beyond: int) -> tuple[Outlook, ...]:
    """Return the outlooks of some dressings of a parcel; what a worker is asked to do."""
    return _unpack_judge(parcel).judge(first, beyond)


@lru_cache(maxsize=2)
def _unpack_judge(parcel: bytes) -> _BoxJudge:
    return _BoxJudge(*unpack(parcel))
