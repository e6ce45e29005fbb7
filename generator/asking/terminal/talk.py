"""One exchange at a time: a line that answers, or a turn such as `back`; help where it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from generator.asking.terminal.console import Console
from generator.asking.terminal.showing import Line
from generator.asking.typed import Option, Unclear, chosen, cleaned
from generator.files.errors import Problem, shown
from generator.library.model import Library

BACK, LATER, QUIT, ALL, CLEAR = "back", "later", "quit", "all", "clear"
SKIP, GO = "skip", "go"
_HELP: Final = ("?", "/?", "help")
# A text that is a turn's word is written in quotes.
_TURNS: Final = {
    **{word: word for word in (BACK, LATER, QUIT)},
    **{f"/{word}": word for word in (BACK, LATER, QUIT, ALL, CLEAR, SKIP, GO)},
}
Help = Callable[[], Iterable[Line]]


class Turn(Exception):
    """Not an answer: another way to go."""

    def __init__(self, word: str, rest: str = "") -> None:
        """`rest` is what was written behind the word."""
        super().__init__(word)
        self.word, self.rest = word, rest


class Talk:
    """Says what the library words, and takes lines."""

    def __init__(self, console: Console, library: Library) -> None:
        self._console = console
        self.library = library

    def say(self, key: str, indent: int = 0, **fills: str) -> None:
        """Says a phrase of the library."""
        self._console.say(self.library.phrase(key, **fills), indent)

    def lines(self, lines: Iterable[Line]) -> None:
        """Says lines, each with its indent."""
        for text, indent in lines:
            self._console.say(text, indent)

    def show(self, text: str) -> None:
        """Shows a text as it is."""
        self._console.show(text)

    def gap(self) -> None:
        """An empty line."""
        self._console.say()

    def refused(self, problem: Problem) -> None:
        """Tells a mistake in an answer, and what to do."""
        self.say("ask-refused", 2, what=problem.what, to_do=problem.to_do)

    def unclear(self, found: Unclear) -> None:
        """Tells that a word may be several choices."""
        self.say("ask-ambiguous", 2, words=", ".join(found.words))

    def line(self, help_: Help, prompt: str = "") -> str:
        """The next line that is an answer, evened out; `""` where it is empty. Raises `Turn` and `Closed`."""
        while True:
            text = cleaned(self._console.line(prompt or self.library.phrase("ask-prompt")))
            if text is None:
                self.say("ask-not-text", 2)
            elif text.lower() in _HELP:
                self.lines(help_())
            elif text.lower() in _TURNS:
                raise Turn(_TURNS[text.lower()])
            elif text.lower().startswith(f"/{GO} "):
                raise Turn(GO, text[len(GO) + 1 :].strip())
            elif text.startswith("/") and text[1:].isalpha():
                self.say("ask-no-such", 2, word=shown(text))
            else:
                return text[1:-1] if text[:1] == text[-1:] == '"' and text[1:-1].lower() in _TURNS else text

    def pick(self, words: Sequence[Option], usual: str, help_: Help, *, numbers: bool = False) -> str:
        """One of some words; an empty line is the usual one, where there is one."""
        if usual:
            self.say("ask-default", 2, value=usual)
        while True:
            text = self.line(help_)
            found = chosen(words, text, numbers=numbers) if text else usual
            if isinstance(found, str) and found in [word.is_ for word in words]:
                return found
            self.unclear(Unclear(tuple(word.is_ for word in words)))
