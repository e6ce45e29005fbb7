"""The part of a sitting that makes scopes: elements, their zones and works, and copies."""

from __future__ import annotations

from collections.abc import Callable

from generator.asking.answers_file import Dropped, Raw
from generator.asking.making import New, copy_of, first_zone, further_zone, new_element, new_work
from generator.asking.order import (
    BOUNDARY,
    NAME,
    More,
    Place,
    element_at,
    given,
    inherited,
    own_answers,
)
from generator.asking.terminal.desk import Desk
from generator.asking.terminal.showing import choice_lines, help_lines, numbered
from generator.asking.typed import Option
from generator.questionnaire.scopes import ScopePath

_MORE = ("work", "zone", "part", "copy", "drop", "no")
YES, NO = (Option(word, word) for word in ("yes", "no"))


class Walls(Desk):
    """A desk at which elements, zones and works are made, each saved as soon as it can stand in the file."""

    def name(self, path: ScopePath) -> None:
        """Asks what an element is called, and makes it where it is a new one."""
        self.talk.gap()
        self.talk.say("ask-element")
        if not path:
            self.talk.say("ask-element-one", 2)
        now = str(element_at(self.source.data, self.where(path)).get(NAME, "")) if path else ""
        if now:
            self.talk.say("ask-now", 2, value=now)

        def named(text: str) -> New:
            if path:
                return New([self.change(path, NAME, text)], path, (*self.where(path), NAME))
            return new_element(self, text)

        new = self._called(named, "ask-element-example", keep=bool(now))
        if new is not None:
            self.save(new.changes)
        self.sitting = self.sitting.answered(((path if new is None else new.path), NAME))

    def _called(self, named: Callable[[str], New], example: str, *, keep: bool = False) -> New | None:
        """A scope under a name that it may have; None where an empty line keeps the name it has."""
        while True:
            text = self.talk.line(lambda: [(self.library.phrase(example), 2)])
            if keep and not text:
                return None
            if not text:
                self.talk.say("ask-name-needed", 2)
            elif self.may_be_called(new := named(text)):
                return new

    def _made(self, named: Callable[[str], New], example: str) -> ScopePath:
        """Asks for a name and makes what is to have it; its path."""
        new = self._called(named, example)
        assert new is not None, "nothing is kept"
        self.save(new.changes)
        return new.path

    def work(self, path: ScopePath) -> None:
        """Asks which work is done on an element, and makes it."""
        question = self.questionnaire.questions["work"]
        self.talk.gap()
        self.talk.say("ask-work-on", name=self.facts.title(path))
        self.talk.lines(choice_lines(self.library, question))
        read = None
        while read is None:
            read = self.read(question, self.talk.line(lambda: help_lines(self.library, question)))
        new = new_work(self, path, str(read.raw))
        self.save(new.changes)
        self.sitting = self.sitting.answered((new.path, "work"))

    # --- more of them -----------------------------------------------------------------------------------

    def more(self, step: More) -> None:
        """Asks whether there is another work, zone or element, and makes it."""
        self.talk.gap()
        self.talk.say("ask-more")
        phrase = self.library.phrase
        words = [Option(word, phrase(f"ask-more-{word}")) for word in _MORE]
        self.talk.lines((line, 2) for line in numbered(self.library, words))
        usual = _MORE[-1]
        picked = self.talk.pick(words, usual, lambda: [(phrase("ask-more-why"), 2)], numbers=True)
        if picked == "work":
            self.work(self._which("ask-work-where", step.path))
        elif picked == "zone":
            self._zone(self._which("ask-zone-of", step.path))
        elif picked == "part":
            self.name(())
        elif picked == "copy":
            self._copy(self._which("ask-copy-of", step.path))
        elif picked == "drop":
            self._drop()
        else:
            self.sitting = self.sitting.completed()

    def _which(self, key: str, usual: ScopePath) -> ScopePath:
        """One of the elements; the usual one where an empty line is typed."""
        elements = self.facts.at("element")
        if len(elements) == 1:
            return elements[0].path
        phrase = self.library.phrase
        self.talk.say(key)
        known = [Option(scope.path[0], scope.title) for scope in elements]
        self.talk.lines((line, 2) for line in numbered(self.library, known, ids=False))
        return (self.talk.pick(known, usual[0], lambda: [(phrase(key), 2)], numbers=True),)

    def _drop(self) -> None:
        """Takes a part or a work out with all its answers, where that is meant."""
        phrase = self.library.phrase
        self.talk.say("ask-drop-which")
        paths = [path for path, scope in self.facts.scopes.items() if scope.level in ("element", "work")]
        known = [Option("/".join(path), self.facts.title(path)) for path in paths]
        known.append(Option(_MORE[-1], phrase("ask-drop-none")))
        self.talk.lines((line, 2) for line in numbered(self.library, known, ids=False))
        picked = self.talk.pick(known, _MORE[-1], lambda: [(phrase("ask-drop-which"), 2)], numbers=True)
        if picked == _MORE[-1]:
            return
        path = tuple(picked.split("/"))
        self.talk.say("ask-drop-sure", name=self.facts.title(path))
        if self.picked((YES, NO), NO.is_, "ask-drop-which") == YES.is_:
            self.save([Dropped(self.where(path))])
            self.sitting = self.sitting.dropped(path)

    def _copy(self, source: ScopePath) -> None:
        """Copies an element under a new name, but for what is its own, which the copy is asked again."""
        title, own = self.facts.title(source), own_answers(self.questionnaire)
        self.talk.say("ask-element")
        asked = [(at, name) for at, name in given(self.facts) if at[:1] == source and name in own]
        path = self._made(lambda text: copy_of(self, source, text, own), "ask-element-example")
        self.talk.say("ask-copied", 2, source=title, name=self.facts.title(path))
        again: tuple[Place, ...] = tuple(((*path, *at[1:]), name) for at, name in asked)
        self.sitting = self.sitting.answered((path, NAME)).asking_again(again)

    # --- zones ------------------------------------------------------------------------------------------

    def _zone(self, path: ScopePath) -> None:
        """Makes one more zone of a wall: of a whole one two, of which the first has the works answered so far."""
        wall = self.where(path)[:2]
        whole = len(self.where(path)) == len(wall)
        line = self._boundary(whole, path)
        if whole:
            if line:
                self.save([self.change(path, BOUNDARY, line)])
            path = self._first_zone(path)
        told: dict[str, Raw] = {} if whole or not line else {BOUNDARY: line}
        self.talk.say("ask-zone-next", name=self.facts.title(path))
        zone = self._made(lambda text: further_zone(self, path, text, told), "ask-zone-example")
        self.talk.say("ask-zone-made", 2, name=self.facts.title(zone))
        again = inherited(self.facts, self.questionnaire, zone)
        self.sitting = self.sitting.answered((zone, NAME)).asking_again(again)
        self.work(zone)

    def _boundary(self, whole: bool, path: ScopePath) -> str:
        """Where the new zone ends; `""` where the wall says it already, or it is left open."""
        question = self.questionnaire.questions.get(BOUNDARY)
        if question is None or (whole and self.facts.held(path, BOUNDARY) is not None):
            return ""
        self.talk.say("ask-zone-line")
        self.talk.lines([(self.library.phrase("ask-may-stay-open"), 2)])
        while True:
            text = self.talk.line(lambda: help_lines(self.library, question))
            if not text:
                return ""
            read = self.read(question, text)
            if read is not None:
                return str(read.raw)

    def _first_zone(self, path: ScopePath) -> ScopePath:
        """Makes what is answered of a wall the answers of its first zone; the path that it then has."""
        self.talk.say("ask-zone-first", name=self.facts.title(path))
        new = self._made(lambda text: first_zone(self, path, text), "ask-zone-example")
        self.sitting = self.sitting.moved(path[0], new[0])
        return new
