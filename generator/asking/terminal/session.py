"""A sitting at the terminal: asks, reads and saves until nothing is left, or somebody leaves."""

from __future__ import annotations

from typing import Final

from generator import pipeline
from generator.asking.answering import Taken
from generator.asking.answers_file import CannotChange, Change, Raw
from generator.asking.finding import places
from generator.asking.order import (
    Ask,
    AskName,
    AskWork,
    Done,
    More,
    Offer,
    Sitting,
    Step,
    next_step,
    open_count,
    parted,
    rest_of,
)
from generator.asking.terminal.console import Closed
from generator.asking.terminal.items import Items
from generator.asking.terminal.showing import held, help_lines, numbered, place, question_lines
from generator.asking.terminal.talk import ALL, BACK, CLEAR, GO, LATER, QUIT, SKIP, Turn
from generator.asking.terminal.walls import NO, YES, Walls
from generator.asking.typed import Option
from generator.files.errors import shown
from generator.questionnaire.questions import Need
from generator.questionnaire.reading import default_of
from generator.record.explain import summary_text

_MOST_FOUND: Final = 20


class Session(Walls):
    """One sitting over one answers file."""

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
        wrong = [] if new else self.mistakes
        if wrong:
            self.talk.say("ask-mistakes")
            self.talk.lines((str(problem), 2) for problem in wrong)

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
        if turn.word == CLEAR:
            self._clear(step)
        if turn.word == GO:
            self._go(turn.rest)
        if turn.word == SKIP:
            self._skip(step)
        if turn.word == LATER:
            if isinstance(step, Ask) and step.question.name != "work":
                self.sitting = self.sitting.leaving((step.path, step.question.name))
            else:
                self.talk.say("ask-not-here", 2)

    def _skip(self, step: Step) -> None:
        """Leaves all that is still asked of the same wall, or of the whole job, as it stands."""
        if not isinstance(step, Ask):
            self.talk.say("ask-not-here", 2)
            return
        left = rest_of(self.facts, self.questionnaire, self.sitting, step.path)
        self.talk.say("ask-skipped", 2, place=place(self.library, self.facts, step.path[:1]), count=str(len(left)))
        for other in left:
            self.sitting = self.sitting.leaving(other)

    def _go(self, words: str) -> None:
        """Goes to a question that holds some words; where several do, to the one that is picked."""
        if not words:
            self.talk.say("ask-go-where", 2)
            return
        known = list(places(self.facts, self.library, words))
        if not known:
            self.talk.say("ask-go-nowhere", 2, words=shown(words))
            return
        at = known[0][0]
        if known[1:]:
            options_ = [Option(str(number), told) for number, (_, told) in enumerate(known[:_MOST_FOUND], 1)]
            options_.append(Option(NO.is_, self.library.phrase("ask-go-none")))
            self.talk.lines((line, 2) for line in numbered(self.library, options_, ids=False))
            if known[_MOST_FOUND:]:
                self.talk.say("ask-go-more", 2, count=str(len(known) - _MOST_FOUND))
            picked = self.talk.pick(options_, NO.is_, lambda: [(self.library.phrase("ask-go-where"), 2)], numbers=True)
            if picked == NO.is_:
                return
            at = known[int(picked) - 1][0]
        self.sitting = self.sitting.asking_again((at,))

    def _clear(self, step: Step) -> None:
        """Takes the answer of the question out of the file, so that it stands as if it had never been given."""
        here = isinstance(step, Ask) and step.question.name != "work" and held(self.facts, step) is not None
        if not isinstance(step, Ask) or not here:
            self.talk.say("ask-nothing-to-clear", 2)
            return
        try:
            self.save([self.taking_out(step.path, step.question.name)])
        except CannotChange as error:
            self.talk.lines([(str(error), 2)])
            return
        self.talk.say("ask-cleared", 2)
        if self._need(step) in ("none", "warning"):
            self.sitting = self.sitting.leaving((step.path, step.question.name))

    def _take(self, step: Step) -> None:
        if isinstance(step, Ask):
            self._question(step)
        elif isinstance(step, AskName):
            self.name(step.path)
        elif isinstance(step, AskWork):
            self.work(step.path)
        elif isinstance(step, More):
            self.more(step)
        elif isinstance(step, Offer):
            self._offer(step)

    # --- questions --------------------------------------------------------------------------------------

    def _question(self, step: Ask) -> None:
        self.talk.gap()
        self.talk.lines(question_lines(self.library, self.facts, self.sitting, step))
        if step.question.kind in ("texts", "records"):
            self._items(step)
            return
        while True:
            text = self.talk.line(lambda: help_lines(self.library, step.question, self._need(step)))
            if not text:
                if self._stays(step):
                    return
                continue
            read = self.read(step.question, text)
            if read is not None:
                self._answered(step, read)
                return

    def _need(self, step: Ask) -> Need:
        return self.questionnaire.need(self.facts, step.path, step.question)

    def _stays(self, step: Ask) -> bool:
        """Takes an empty line: keeps what is there, or leaves open what may be; False where it needs an answer."""
        place = (step.path, step.question.name)
        need = self._need(step)
        if held(self.facts, step) is not None:
            self.sitting = self.sitting.answered(place)
        elif default_of(step.question) is not None or need in ("none", "warning"):
            self.sitting = self.sitting.leaving(place)
        else:
            self.talk.say(f"ask-needed-{need}", 2)
            return False
        return True

    def _answered(self, step: Ask, found: Taken) -> None:
        changes, path = self.answer(step.path, step.question.name, found)
        self.save(changes)
        self.sitting = self.sitting.answered((path, step.question.name))

    def _items(self, step: Ask) -> None:
        """Asks a list item by item; each is saved as it comes, in place of what was there before."""
        items = Items(self.talk, step.question)
        found: list[Raw] = []
        while (item := items.next(len(found) + 1)) is not None:
            found.append(item)
            place = (*self.where(step.path), step.question.name)
            first = len(found) == 1
            self.save([self.change(step.path, step.question.name, found) if first else Change(place, None, item)])
        if items.none and not found:
            self._answered(step, Taken([], ()))
        elif found:
            self.sitting = self.sitting.answered((step.path, step.question.name))
        elif not self._stays(step):
            self._items(step)

    # --- wider passes ------------------------------------------------------------------------------------

    def _offer(self, offer: Offer) -> None:
        self.talk.gap()
        self.talk.say(f"ask-{offer.upto}", count=str(offer.count))
        usual = YES.is_ if offer.upto == "wanted" else NO.is_
        groups = parted(self.facts, self.questionnaire, self.sitting.widened(offer.upto))
        words = [Option(one.is_, self.library.phrase(f"ask-group-{one.is_}")) for one in (YES, NO)]
        if len(groups) > 1:
            words += [Option("/".join(key), self._group(key, len(asked))) for key, asked in groups.items()]
            self.talk.lines((line, 2) for line in numbered(self.library, words, ids=False))
        taken = self.talk.pick(words, usual, lambda: [(self.library.phrase(f"ask-{offer.upto}-why"), 2)], numbers=True)
        if taken in (YES.is_, NO.is_):
            self.sitting = self.sitting.widened(offer.upto) if taken == YES.is_ else self.sitting.ending()
        else:
            self.sitting = self.sitting.asking_again(groups[next(key for key in groups if "/".join(key) == taken)])

    def _group(self, key: tuple[str, str], count: int) -> str:
        element, heading = key
        told = self.facts.title((element,)) if element else f"{self.library.phrase('whole-job')}, {heading}"
        return self.library.phrase("ask-group", group=told, count=str(count))

    # --- leaving ----------------------------------------------------------------------------------------

    def _finished(self) -> bool:
        """Tells what stands open and what to do next; whether the papers are for tender."""
        self.talk.gap()
        if self.source.problems:
            self.talk.say("ask-unreadable")
            self.talk.lines((str(problem), 2) for problem in sorted(self.source.problems))
            self.talk.say("ask-next-ask", command=self.command)
            return False
        job = pipeline.settled(self.facts, self.library, folder=self.file.path.parent)
        self.talk.show(summary_text(job, self.command))
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
        if self.source.problems:
            return False
        return pipeline.settled(self.facts, self.library, folder=self.file.path.parent).status == "tender"
