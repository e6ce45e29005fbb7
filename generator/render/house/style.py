"""A practice's own look read from its Word file: fonts, colours, spacing, paper, margins, headers and footers.

The file is another's: it is opened hardened, and everything taken from it is checked and made anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any, Final

from generator.files.errors import GaugeboxError
from generator.render.check.access import contrast
from generator.render.check.opened import MAIN, Opened, Unreadable, W, opened
from generator.render.check.structure import value, whole
from generator.render.house.props import CELL, PARAGRAPH, RUN, TABLE, Told, properties, put, theme_faces
from generator.render.house.stories import Sections, Stories
from generator.render.word.geometry import Geometry, Margins, Page
from generator.render.word.look import LANGUAGE, Look
from generator.render.word.styles import styles_part
from generator.render.word.xml import TWIPS_PER_MM, twips

STYLES: Final = "word/styles.xml"
OUR_OWN: Final = frozenset(
    (
        "DefaultParagraphFont", "TableNormal", "NoList", "SectionEnd", "SheetTitle", "SheetText", "CardTable",
        "CommentText", "CommentReference",
    )
)  # fmt: skip
"""Styles that a practice's file need not have: of the mix schedule, of comments, and of the papers' build."""

_COPY: Final = "copy it from the file that 'gaugebox style export' writes"
_TYPES: Final = "{http://schemas.openxmlformats.org/package/2006/content-types}"
_WORD_TYPES: Final = ("document.main+xml", "template.main+xml")
_EMBEDDED: Final = re.compile(r"word/(?:embeddings|activeX|afchunk)[^/]*(?:/|\.)", re.IGNORECASE)
LEAST_CONTRAST: Final = 3
"""The least contrast of any words, WCAG 2.2, criterion 1.4.3; `papers check` asks more of small ones."""

_ON_HEADS: Final = ("TableHead", "TableSmallHead")
LEAST_MM: Final = 100
"""Neither the line nor the height between the margins is less: tables would break every word."""


class HouseStyleUnusable(GaugeboxError):
    """A house style that cannot be used; says everything that is wrong, a line each."""


def house_style(data: bytes, name: str) -> Look:
    """The look that a practice's Word file describes; lines call it by `name`. Raises `HouseStyleUnusable`."""
    try:
        file = opened(data)
    except Unreadable as error:
        raise HouseStyleUnusable(f"{name}: {error.fault.what}: {error.fault.to_do}") from None
    mistakes = [*_dangers(file), *(f"{fault.what}: {fault.to_do}" for fault in file.broken)]
    if not mistakes and STYLES not in file.trees:
        mistakes = [f"has no styles: {_COPY}"]
    look = None if mistakes else _look(file, mistakes.append)
    if look is None or mistakes:
        raise HouseStyleUnusable("\n".join(f"{name}: {what}" for what in dict.fromkeys(mistakes)))
    return look


def _dangers(file: Opened) -> Iterator[str]:
    """What no house style needs and none may bring along."""
    types = file.trees.get("[Content_Types].xml")
    held = {} if types is None else {item.get("PartName", ""): item.get("ContentType", "") for item in types}
    macros = any("vbaproject" in part.lower() for part in file.parts)
    if macros or any("macroEnabled" in kind for kind in held.values()):
        yield "holds macros: save it as a document without macros (.docx)"
    elif not held.get(f"/{MAIN}", "").endswith(_WORD_TYPES):
        yield "is not a Word document: save it from Word as .docx"
    for part in file.parts:
        if _EMBEDDED.match(part):
            yield f"holds another file ({part[:60]}): delete it there"
    for part in file.trees:
        for target, outside in file.relations(part).values():
            if outside:
                yield f"links to '{target[:60]}' outside the file (in {part[:60]}): remove the link"


def _look(file: Opened, told: Told) -> Look:
    geometry, sections = _geometry(file, told)
    styles = _Styles(file, told)
    stories = Stories(file, styles.own_id, told).of(sections) if sections else {}
    styles.add_extra()
    return Look(geometry, styles.text(), styles.faces(), stories)


# --- paper ------------------------------------------------------------------------------------------------


def _geometry(file: Opened, told: Told) -> tuple[Geometry, Sections | None]:
    """The upright and the turned page, and the sections of cover and pages.

    The first of several upright sections is the cover; without one that lies, the upright page is turned.
    """
    setups = list(file.body.iter(f"{W}sectPr"))
    pages = [_page(setup, told) for setup in setups]
    upright = [(number, page) for number, page in enumerate(pages) if page and page.width <= page.height]
    lying = [(number, page) for number, page in enumerate(pages) if page and page.width > page.height]
    if not upright:
        told("has no section of upright pages: set one up in Word")
        nothing = Page(0, 0, Margins(0, 0, 0, 0, 0, 0))
        return Geometry(nothing, nothing), None
    number, page = upright[:2][-1]
    turned = lying[0] if lying else (number, Page(page.height, page.width, page.margins))
    for one in (page, turned[1]):
        _roomy(one, told)
    return Geometry(page, turned[1]), Sections(upright[0][0], number, turned[0])


def _page(setup: Any, told: Told) -> Page | None:
    width, height = (whole(value(setup, "pgSz", name), 0) for name in ("w", "h"))
    sides = ("top", "right", "bottom", "left", "header", "footer")
    margins = {name: whole(value(setup, "pgMar", name), -1) for name in sides}
    if not (width and height) or min(margins.values()) < 0:
        told("has a section without a size of paper or margins: set them in Word, under Layout")
        return None
    return Page(width, height, Margins(**margins, gutter=whole(value(setup, "pgMar", "gutter"), 0)))


def _roomy(page: Page, told: Told) -> None:
    least = min(page.line, page.room)
    if least < twips(LEAST_MM):
        room = round(least / TWIPS_PER_MM)
        told(f"leaves {room} mm between margins, and tables need {LEAST_MM} mm: make the margins narrower")


# --- styles -----------------------------------------------------------------------------------------------


class _Styles:
    """Our styles, each with the look that the practice's file gives the style of its name."""

    def __init__(self, file: Opened, told: Told) -> None:
        from lxml import etree

        self._told = told
        self._faces = theme_faces(file)
        self._ours: Any = etree.fromstring(styles_part(LANGUAGE).encode())
        theirs = file.trees[STYLES]
        self._by_id = {value(item, name="styleId"): item for item in theirs.iter(f"{W}style")}
        self._by_name = {_key(item): item for item in theirs.iter(f"{W}style")}
        self._ids = {_key(item): value(item, name="styleId") for item in self._ours.iter(f"{W}style")}
        self._extra: dict[str, str] = {}
        self._take_defaults(theirs)
        self._take_all()
        self._refuse_pale()

    def own_id(self, style: str) -> str:
        """The id that our papers use for a style of the practice's file; one that is not ours comes along."""
        item = self._by_id.get(style)
        if item is None:
            return ""
        if _key(item) in self._ids:
            return self._ids[_key(item)]
        return self._extra.setdefault(style, f"House{len(self._extra) + 1}")

    def add_extra(self) -> None:
        """Adds the styles that came along, whole: nothing of ours lies under them."""
        for style, own in self._extra.items():
            item = self._by_id[style]
            kind = "character" if value(item, name="type") == "character" else "paragraph"
            made = self._element("style", {"type": kind, "customStyle": "1", "styleId": own})
            made.append(self._element("name", {"val": value(item, "name")[:60] or own}))
            self._dress(made, item, frozenset())
            self._ours.append(made)

    def text(self) -> str:
        """The styles part as XML."""
        from lxml import etree

        return str(etree.tostring(self._ours, encoding="unicode"))

    def faces(self) -> tuple[str, ...]:
        """Every face the styles name, that of most text first."""
        normal = self._style("Normal")
        defaults = self._ours.find(f"{W}docDefaults")
        first = value(normal, "rPr/rFonts", "ascii") or value(defaults, "rPrDefault/rPr/rFonts", "ascii")
        named = [item.get(f"{W}{name}", "") for item in self._ours.iter(f"{W}rFonts") for name in ("ascii", "hAnsi")]
        return tuple(dict.fromkeys(filter(None, (first, *named)))) or ("Times New Roman",)

    def _take_defaults(self, theirs: Any) -> None:
        ours = self._ours.find(f"{W}docDefaults")
        language = ours.find(f"{W}rPrDefault/{W}rPr/{W}lang")
        for path, known, keep in (("rPrDefault/rPr", RUN, [language]), ("pPrDefault/pPr", PARAGRAPH, [])):
            steps = "/".join(W + step for step in path.split("/"))
            said = properties([theirs.find(f"{W}docDefaults/{steps}")], known, self._faces, self._told)
            put(ours.find(steps), said, keep)

    def _refuse_pale(self) -> None:
        """Refuses styles whose words nobody could read on their ground."""
        head = value(self._ours.find(f"{W}style/{W}tblStylePr/{W}tcPr/{W}shd"), name="fill")
        everywhere = value(self._ours, "docDefaults/rPrDefault/rPr/color")
        for item in self._ours.iter(f"{W}style"):
            own = value(item, name="styleId")
            ground = self._said(own, "pPr/shd", "fill") or (head if own in _ON_HEADS else "")
            found = contrast(self._said(own, "rPr/color") or everywhere, ground)
            if value(item, name="type") == "paragraph" and own not in OUR_OWN and found < LEAST_CONTRAST:
                what = f"has a contrast of {found:.1f} between words and ground, and {LEAST_CONTRAST:g} can be read"
                self._told(f"style '{value(item, 'name')}' {what}: set another colour in Word")

    def _said(self, own: str, path: str, name: str = "val") -> str:
        """What a style of ours, or one it rests on, says at a path."""
        while own:
            style = self._style(own)
            if found := value(style, path, name):
                return found
            own = value(style, "basedOn")
        return ""

    def _take_all(self) -> None:
        for ours in list(self._ours.iter(f"{W}style")):
            own = value(ours, name="styleId")
            if own in OUR_OWN:
                continue
            theirs = self._by_name.get(_key(ours))
            if theirs is None:
                self._told(f"has no {value(ours, name='type')} style '{value(ours, 'name')}': {_COPY}")
            elif value(ours, name="type") == "table":
                self._take_table(ours, theirs)
            else:
                self._dress(ours, theirs, self._bases(own))

    def _bases(self, own: str) -> frozenset[str]:
        """The names of the styles that one of ours rests on."""
        found = set()
        while own := value(self._style(own), "basedOn"):
            found.add(_key(self._style(own))[1])
        return frozenset(found)

    def _chain(self, theirs: Any, bases: frozenset[str]) -> list[Any]:
        """A style and those it rests on, the lowest first, as far as one that ours rests on too."""
        chain, seen = [theirs], {value(theirs, name="styleId")}
        while (below := value(chain[0], "basedOn")) in self._by_id and below not in seen:
            seen.add(below)
            if _key(self._by_id[below])[1] in bases:
                break
            chain.insert(0, self._by_id[below])
        return chain

    def _dress(self, ours: Any, theirs: Any, bases: frozenset[str]) -> None:
        """Gives a style of ours the look of one of theirs; its list and its place in the outline stay ours."""
        chain = self._chain(theirs, bases)
        self._rest_on(ours, value(chain[0], "basedOn"), bases)
        name = value(ours, "name")

        def told(what: str) -> None:
            self._told(f"style '{name}' {what}")

        for tag, known in (("pPr", PARAGRAPH), ("rPr", RUN)):
            old = ours.find(W + tag)
            keep = [] if old is None else [item for item in old if item.tag in (f"{W}numPr", f"{W}outlineLvl")]
            said = properties([item.find(W + tag) for item in chain], known, self._faces, told)
            if old is not None:
                ours.remove(old)
            if said or keep:
                new = self._element(tag, {})
                put(new, said, keep)
                ours.append(new)

    def _rest_on(self, ours: Any, below: str, bases: frozenset[str]) -> None:
        """What the style rests on: one of ours where theirs does too, else nothing."""
        base = ours.find(f"{W}basedOn")
        if base is None:
            return
        if below in self._by_id and _key(self._by_id[below])[1] in bases:
            base.set(f"{W}val", self._ids[_key(self._by_id[below])])
        else:
            ours.remove(base)

    def _take_table(self, ours: Any, theirs: Any) -> None:
        """The rules of tables and the ground of their heading row."""
        rules = properties([theirs.find(f"{W}tblPr")], TABLE, self._faces, self._told).get("tblBorders")
        old = ours.find(f"{W}tblPr/{W}tblBorders")
        if rules is not None:
            old.getparent().replace(old, rules)
        heads = [item for item in theirs.iter(f"{W}tblStylePr") if value(item, name="type") == "firstRow"]
        grounds = [head.find(f"{W}tcPr") for head in heads]
        ground = properties(grounds, CELL, self._faces, self._told).get("shd")
        shaded = ours.find(f"{W}tblStylePr/{W}tcPr/{W}shd")
        if ground is None:
            shaded.set(f"{W}fill", "auto")
        else:
            shaded.getparent().replace(shaded, ground)

    def _style(self, own: str) -> Any:
        return next(item for item in self._ours.iter(f"{W}style") if value(item, name="styleId") == own)

    def _element(self, name: str, attributes: Mapping[str, str]) -> Any:
        return self._ours.makeelement(W + name, {W + key: text for key, text in attributes.items()})


def _key(style: Any) -> tuple[str, str]:
    return value(style, name="type") or "paragraph", value(style, "name").lower()
