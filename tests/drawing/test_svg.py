from __future__ import annotations

import pytest
from lxml import etree

from generator.drawing.model import Circle, Drawing, Label, Line, Polygon, Polyline, Primitive, Rect
from generator.drawing.svg import TITLE_LIMIT, svg

SVG = "{http://www.w3.org/2000/svg}"


def one(root: etree._Element, path: str) -> etree._Element:
    """The element at a path, which must be there."""
    found = root.find(path)
    assert found is not None, path
    return found


def parsed(*primitives: Primitive, alt: str = "A wall.") -> etree._Element:
    return etree.fromstring(svg(Drawing(50, 40, alt, primitives)).encode())


@pytest.mark.parametrize("hostile", ["<b>&\"'</text>", "]]><script>", "&amp;", "🙂 {{7*7}}", "--> <!--"])
def test_hostile_text_prints_as_it_is_spelt(hostile: str) -> None:
    root = parsed(Label(1, 5, hostile), alt=hostile)
    assert [element.text for element in root.iter(f"{SVG}text")] == [hostile]
    assert root.findtext(f"{SVG}desc") == hostile
    known = {"svg", "title", "desc", "rect", "g", "text"}
    assert {etree.QName(element).localname for element in root.iter()} == known


def test_the_title_is_the_first_sentence_cut_where_it_is_long() -> None:
    assert parsed(alt="A wall. It is old.").findtext(f"{SVG}title") == "A wall"
    title = parsed(alt="long " * 60).findtext(f"{SVG}title", "")
    assert title.endswith("…")
    assert len(title) <= TITLE_LIMIT


def test_shapes_keep_their_weight_fill_dash_and_ink() -> None:
    shape, line = Polygon(((1, 1), (9, 1), (5, 9)), 0.5, 0.5, rgb=(204, 0, 0)), Line(0, 0, 9, 9, 0.3, (2, 1))
    root = parsed(shape, line)
    polygon, drawn = one(root, f".//{SVG}polygon"), one(root, f".//{SVG}line")
    assert {str(name): str(value) for name, value in polygon.attrib.items()} == {
        "points": "1,1 9,1 5,9", "fill": "#808080", "stroke": "#cc0000", "stroke-width": "0.5",
    }  # fmt: skip
    assert (drawn.get("stroke-width"), drawn.get("stroke-dasharray")) == ("0.3", "2 1")


def test_a_weight_of_nothing_leaves_the_edge_out() -> None:
    assert one(parsed(Rect(1, 1, 5, 5, 0.0, 0.0)), f".//{SVG}polygon").get("stroke") is None


def test_a_hatched_shape_has_its_edge_over_the_hatch_over_the_ground() -> None:
    root = parsed(Rect(1, 1, 8, 8, 0.3, 1.0, "diagonal"))
    group = one(root, f"{SVG}g/{SVG}g")
    names = [etree.QName(child).localname for child in group]
    assert names[0] == names[-1] == "polygon"
    assert set(names[1:-1]) == {"line"}


def test_curves_and_paths_are_drawn() -> None:
    root = parsed(Circle(5, 5, 2, 0.2), Polyline(((0, 0), (1, 2), (3, 1)), 0.2))
    assert one(root, f".//{SVG}circle").get("r") == "2"
    assert one(root, f".//{SVG}polyline").get("points") == "0,0 1,2 3,1"


def test_figures_have_no_dust_and_no_exponents() -> None:
    text = svg(Drawing(50, 40, "A wall.", (Line(0.1 + 0.2, 1e-9, -1e-9, 1 / 3),)))
    assert 'x1="0.3" y1="0" x2="0" y2="0.333"' in text


def test_text_is_text_of_the_face_set_as_it_is_measured() -> None:
    root = parsed(Label(1, 5, "AVA 25 mm", bold=True))
    group = one(root, f"{SVG}g")
    assert str(group.get("font-family")).startswith("Arial, 'Liberation Sans'")
    assert group.get("style") == "font-kerning:none"
    assert one(root, f".//{SVG}text").get("font-weight") == "bold"
