"""A sitting at the terminal: asks, reads and saves until nothing is left, or somebody leaves."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from pathlib import Path

from generator import pipeline
from generator.errors import InputInvalid, Problem
from generator.explain import findings_text
from generator.pipeline import Words
from generator.questionnaire.answers import read_answers
from generator.questionnaire.answers_file import AnswersFile, CannotChange, Change, Raw, changed
from generator.questionnaire.asking import (
    NAME,
    Ask,
    AskName,
    AskWork,
    Done,
    MoreElements,
    MoreWorks,
    Offer,
    Place,
    Sitting,
    Step,
    begun,
    can_go_on,
    copied,
    element_at,
    elements_of,
    keys_before,
    new_id,
    next_step,
    open_count,
    quantities,
    where,
)
from generator.questionnaire.facts import ScopePath
from generator.questionnaire.questions import Question
from generator.questionnaire.reading import default_of, read_value
from generator.questionnaire.typed import UNKNOWN, Option, Unclear, meant
from generator.source import Path_, Source, read_bytes
from generator.terminal.console import Closed, Console
from generator.terminal.items import Items
from generator.terminal.showing import choice_lines, held, help_lines, options, question_lines
from generator.terminal.talk import ALL, BACK, LATER, QUIT, Talk, Turn

YES, NO, COPY = (Option(word, word) for word in ("yes", "no", "copy"))


class Session:
    """One sitting over one answers file. Everything answered is in the file; the rest is in `sitting`."""

    def __init__(self, path: Path, words: Words, console: Console, more: str = "") -> None:
        """`more` are options that belong to the next command too. Raises `InputInvalid` or `CannotWrite`."""
        self.words = words
        self.questionnaire = words.library.questionnaire
        self.talk = Talk(console, words.library)
        self.file = AnswersFile(path, words.library.phrase("ask-file-top"))
        self.command = f"{shlex.quote(str(path))}{more}"
        self._take_in(self.file.read())
        self.sitting = begun(self.facts)

    def _take_in(self, source: Source) -> None:
        if source.problems:
            raise InputInvalid(source.problems)
        self.source = source
        self.facts = read_answers(source, self.questionnaire, self.words.library.names)
        if not can_go_on(source.data, self.facts):
            raise InputInvalid(source.problems)

    # --- the way of a sitting ---------------------------------------------------------------------------

    def run(self) -> bool:
        """Asks until nothing is left or somebody leaves; whether the papers are for tender as answers stand."""
        try:
            self._welcome()
            while not isinstance(step := next_step(self.facts, self.questionnaire, self.sitting), Done):
                self._turn(step)
            return self._finished()
        except (Turn, Closed, KeyboardInterrupt):
            return self._left()

    def _welcome(self) -> None:
        new = not self.file.path.exists()
        self.talk.say("ask-begins" if new else "ask-goes-on", file=str(self.file.path))
        self.talk.say("ask-ways")
        wrong = [] if new else self._mistakes()
        if wrong:
            self.talk.say("ask-mistakes")
            self.talk.lines((str(problem), 2) for problem in sorted(wrong))

    def _mistakes(self) -> list[Problem]:
        """The mistakes of the file but for what is not there yet: that is marked at the mapping it is missing from."""
        places = [(), ("elements",), *where(self.source.data).values()]
        whole = {self.source.mark(place) for place in places}
        return [problem for problem in self.source.problems if problem.mark not in whole]

    def _turn(self, step: Step) -> None:
        try:
            self._take(step)
        except CannotChange as error:
            self.talk.lines([(str(error), 2)])
            if isinstance(step, Ask):
                self.sitting = self.sitting.leaving((step.path, step.question.name))
        except Turn as turn:
            self._obey(turn, step)

    def _obey(self, turn: Turn, step: Step) -> None:
        if turn.word == QUIT:
            raise turn
        if turn.word == ALL:
            self.sitting = self.sitting.widened("further")
        if turn.word == BACK:
            before = self.sitting.back()
            if before is None:
                self.talk.say("ask-first", 2)
            self.sitting = before or self.sitting
        if turn.word == LATER:
            if isinstance(step, Ask) and step.question.name != "work":
                self.sitting = self.sitting.leaving((step.path, step.question.name))
            else:
                self.talk.say("ask-not-here", 2)

    def _take(self, step: Step) -> None:
        if isinstance(step, Ask):
            self._question(step)
        elif isinstance(step, AskName):
            self._name(step.path)
        elif isinstance(step, AskWork):
            self._work(step.path)
        elif isinstance(step, MoreWorks):
            self._more_works(step.path)
        elif isinstance(step, MoreElements):
            self._more_elements()
        elif isinstance(step, Offer):
            self._offer(step)

    # --- questions --------------------------------------------------------------------------------------

    def _question(self, step: Ask) -> None:
        self.talk.gap()
        self.talk.lines(question_lines(self.words.library, self.facts, self.sitting, step))
        if step.question.kind in ("texts", "records"):
            self._items(step)
            return
        while True:
            text = self.talk.line(lambda: help_lines(self.words.library, step.question))
            if not text:
                if self._stays(step):
                    return
                continue
            raw = self._read(step.question, text)
            if raw is not None:
                self._answered(step, raw)
                return

    def _read(self, question: Question, text: str) -> Raw | None:
        """What a line comes to as answers spell it; None where it was refused, and told why."""
        raw = meant(question.kind, options(question), question.as_name().unit, text)
        if isinstance(raw, Unclear):
            self.talk.unclear(raw)
            return None
        checked = Source("")
        value = read_value(question, raw, (), checked)
        if value is None:
            for problem in checked.problems[:1]:
                self.talk.refused(problem)
            if str(raw).lower() == UNKNOWN:
                self.talk.say("ask-cannot-be-unknown", 2, why=question.why)
            return None
        if question.kind in ("choice", "choices") and raw != text:
            self.talk.say("ask-taken", 2, value=self.facts.say(question.name, value))
        return raw

    def _stays(self, step: Ask) -> bool:
        """Takes an empty line: keeps what is there, or leaves open what may be; False where it needs an answer."""
        place, need = (step.path, step.question.name), step.question.need
        if held(self.facts, step) is not None:
            self.sitting = self.sitting.answered(place)
        elif default_of(step.question) is not None or need in ("none", "warning"):
            self.sitting = self.sitting.leaving(place)
        else:
            self.talk.say(f"ask-needed-{need}", 2)
            return False
        return True

    def _answered(self, step: Ask, raw: Raw) -> None:
        path = step.path
        changes = [self._change(path, step.question.name, raw)]
        if step.question.name == "work" and isinstance(raw, str) and raw != self.facts.get(path, "work"):
            # an id made from the old work would name the new one wrongly
            key = new_id(raw, self._ids(path[:-1]) - {path[-1]})
            changes.append(self._change(path, "id", key))
            path = (*path[:-1], key)
        self._save(changes)
        self.sitting = self.sitting.answered((path, step.question.name))

    def _items(self, step: Ask) -> None:
        """Asks a list item by item; each is saved as it comes, in place of what was there before."""
        items = Items(self.talk, step.question)
        found: list[Raw] = []
        while (item := items.next(len(found) + 1)) is not None:
            found.append(item)
            place = (*self._where(step.path), step.question.name)
            first = len(found) == 1
            self._save([self._change(step.path, step.question.name, found) if first else Change(place, None, item)])
        if items.none and not found:
            self._answered(step, [])
        elif found:
            self.sitting = self.sitting.answered((step.path, step.question.name))
        elif not self._stays(step):
            self._items(step)

    # --- walls and works --------------------------------------------------------------------------------

    def _name(self, path: ScopePath) -> None:
        """Asks what an element is called, and makes it where it is a new one."""
        self.talk.gap()
        self.talk.say("ask-element")
        if path:
            self.talk.say("ask-now", 2, value=self.facts.title(path))
        place = self._where(path) if path else self._next_place()
        while True:
            text = self.talk.line(lambda: [(self.words.library.phrase("ask-element-example"), 2)])
            if path and not text:
                self.sitting = self.sitting.answered((path, NAME))
                return
            key = path[0] if path else new_id(text, self._ids(()))
            change = self._change(path, NAME, text) if path else _added(("elements",), {"id": key, NAME: text})
            if self._may_be_called(change, (*place, NAME), text):
                self._save([change])
                self.sitting = self.sitting.answered(((key,), NAME))
                return

    def _may_be_called(self, change: Change, place: Path_, text: str) -> bool:
        """Whether the reader takes a name as the answers would then stand; else it is told why not."""
        if not text:
            self.talk.say("ask-name-needed", 2)
            return False
        trial = read_bytes(changed(self.source.raw.decode("utf-8-sig"), [change]).encode(), "", typed=False)
        read_answers(trial, self.questionnaire, self.words.library.names)
        wrong = [problem for problem in trial.problems if problem.mark == trial.mark(place)]
        for problem in wrong:
            self.talk.refused(problem)
        return not wrong

    def _work(self, path: ScopePath) -> None:
        question = self.questionnaire.questions["work"]
        self.talk.gap()
        self.talk.say("ask-work-on", name=self.facts.title(path))
        self.talk.lines(choice_lines(self.words.library, question))
        raw: Raw | None = None
        while not isinstance(raw, str):
            raw = self._read(question, self.talk.line(lambda: help_lines(self.words.library, question)))
        key = new_id(raw, self._ids(path))
        self._save([_added((*self._where(path), "works"), {"id": key, "work": raw})])
        self.sitting = self.sitting.answered(((*path, key), "work"))

    def _more_works(self, path: ScopePath) -> None:
        self.talk.gap()
        self.talk.say("ask-more-works", name=self.facts.title(path))
        if self._picked((YES, NO), NO.is_, "ask-more-works-why") == YES.is_:
            self._work(path)
        else:
            self.sitting = self.sitting.closing(path)

    def _more_elements(self) -> None:
        self.talk.gap()
        self.talk.say("ask-more-elements")
        picked = self._picked((YES, NO, COPY), NO.is_, "ask-more-elements-why")
        if picked == YES.is_:
            self._name(())
        elif picked == COPY.is_:
            self._copy()
        else:
            self.sitting = self.sitting.completed()

    def _copy(self) -> None:
        """Copies an element with all its answers under a new name; its quantities are asked again."""
        source = self._to_copy()
        title = self.facts.title(source)
        data = element_at(self.source.data, self._where(source))
        self.talk.say("ask-element")
        place = (*self._next_place(), NAME)
        while True:
            name = self.talk.line(lambda: [(self.words.library.phrase("ask-element-example"), 2)])
            key = new_id(name, self._ids(()))
            change = _added(("elements",), copied(data, key, name))
            if self._may_be_called(change, place, name):
                break
        self._save([change])
        self.talk.say("ask-copied", 2, source=title, name=name)
        again: tuple[Place, ...] = quantities(self.facts, self.questionnaire, (key,))
        self.sitting = self.sitting.answered(((key,), NAME)).closing((key,)).asking_again(again)

    def _to_copy(self) -> ScopePath:
        elements = self.facts.at("element")
        if len(elements) == 1:
            return elements[0].path
        self.talk.say("ask-copy-of")
        known = [Option(scope.path[0], scope.title) for scope in elements]
        phrase = self.words.library.phrase
        self.talk.lines(
            (phrase("ask-choice", number=f"{number:2}", word=option.says), 2) for number, option in enumerate(known, 1)
        )
        return (self.talk.pick(known, "", lambda: [(phrase("ask-copy-of"), 2)], numbers=True),)

    def _offer(self, offer: Offer) -> None:
        self.talk.gap()
        self.talk.say(f"ask-{offer.upto}", count=str(offer.count))
        usual = YES.is_ if offer.upto == "wanted" else NO.is_
        taken = self._picked((YES, NO), usual, f"ask-{offer.upto}-why") == YES.is_
        self.sitting = self.sitting.widened(offer.upto) if taken else self.sitting.ending()

    def _picked(self, words: Sequence[Option], usual: str, why: str) -> str:
        return self.talk.pick(words, usual, lambda: [(self.words.library.phrase(why), 2)])

    # --- the file ---------------------------------------------------------------------------------------

    def _where(self, path: ScopePath) -> Path_:
        return where(self.source.data)[path]

    def _change(self, path: ScopePath, name: str, raw: Raw) -> Change:
        level = self.facts.scopes[path].level if path else "project"
        return Change(self._where(path), name, raw, keys_before(self.questionnaire, level, name))

    def _next_place(self) -> Path_:
        return ("elements", len(elements_of(self.source.data)))

    def _ids(self, parent: ScopePath) -> set[str]:
        # a wall with zones is no scope, and has an id all the same
        walls = {str(item.get("id")) for item in elements_of(self.source.data)} if not parent else set()
        return walls | {path[-1] for path in self.facts.scopes if path and path[:-1] == parent}

    def _save(self, changes: Sequence[Change]) -> None:
        self._take_in(self.file.change(changes))

    # --- leaving ----------------------------------------------------------------------------------------

    def _finished(self) -> bool:
        """Tells what stands open and what to do next; whether the papers are for tender."""
        self.talk.gap()
        if self.source.problems:
            self.talk.say("ask-unreadable")
            self.talk.lines((str(problem), 2) for problem in sorted(self.source.problems))
            self.talk.say("ask-next-ask", command=self.command)
            return False
        job = pipeline.settled(self.facts, self.words)
        self.talk.show(findings_text(job))
        self.talk.gap()
        self.talk.say("ask-next-write", command=self.command)
        return job.status == "tender"

    def _left(self) -> bool:
        """Says that all is saved and how to go on; whether the papers are for tender as answers stand."""
        file = str(self.file.path)
        try:
            self.talk.gap()
            if not self.file.path.exists():
                self.talk.say("ask-left-nothing", file=file)
                return False
            count = open_count(self.facts, self.questionnaire, Sitting())
            self.talk.say("ask-left", file=file, count=str(count), command=self.command)
        except Closed:
            pass
        return not self.source.problems and pipeline.settled(self.facts, self.words).status == "tender"


def _added(place: Path_, item: Raw) -> Change:
    return Change(place, None, item)
