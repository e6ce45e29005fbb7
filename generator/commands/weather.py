"""The commands `weather`, `rain` and `frost`: what a published weather file tells of a wall and of the year."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator.commands.options import LibraryFolder
from generator.commands.shared import WRONG_USE, or_stop, say, stop, worded_library

if TYPE_CHECKING:
    from generator.asking.weather.columns import Quantity
    from generator.asking.weather.file import WeatherFile
    from generator.asking.weather.rain import WallPlace

File = Annotated[Path, typer.Argument(help="A weather file (CSV) as a service publishes it, hourly or daily.")]
_COLUMN = "A column whose name is not known, as wind=FF:kn; repeatable."
Columns = Annotated[list[str] | None, typer.Option("--column", metavar="WHAT=NAME[:UNIT]", help=_COLUMN)]
Faces = Annotated[str, typer.Option(help="Where the wall faces: degrees from north, or N, NNE … NNW.")]
MayFace = Annotated[str, typer.Option(help="Where the wall faces: degrees or N, NNE …; without it rain is left out.")]
Terrain = Annotated[str, typer.Option(help="I sea or open, II farmland, III suburb, IV town.")]
Height = Annotated[float, typer.Option(help="Height above ground, m.")]
Slope = Annotated[float, typer.Option(help="Slope of a hill to windward, rise over run.")]
OnSlope = Annotated[float, typer.Option(help="Place on the slope, 0 foot to 1 crest.")]
Shelter = Annotated[float, typer.Option(help="Distance to what stands before the wall, m.")]
Shape = Annotated[str, typer.Option(help="Shape of the wall, such as 'two-storey gable'.")]
Chance = Annotated[float, typer.Option(help="Chance of frost on the wrong side of the two days, per cent.")]
Colder = Annotated[float, typer.Option(help="How much colder the place is than the station, degrees C.")]
Hemisphere = Annotated[str, typer.Option("--half", help="north or south: the half of the world.")]


def register(app: typer.Typer) -> None:
    """Adds the commands."""
    app.command("weather")(weather)
    app.command("rain")(rain)
    app.command("frost")(frost)


def weather(
    weather: File,
    faces: MayFace = "",
    terrain: Terrain = "II",
    height: Height = 6.0,
    slope: Slope = 0.0,
    on_slope: OnSlope = 0.0,
    shelter: Shelter = 120.0,
    shape: Shape = "two-storey eaves",
    column: Columns = None,
    chance: Chance = 10.0,
    colder: Colder = 0.0,
    half: Hemisphere = "north",
    library: LibraryFolder = None,
) -> None:
    """Tell frost and driving rain from one published file, each as far as the file holds it."""
    from generator.asking.weather.rain import WANTED

    ready = worded_library(library)
    words, read = ready.words, _read(weather, column, None)
    if not {"least", "temperature"} & read.columns.keys():
        say(words["weather-no-frost"])
    else:
        say(words["weather-frost"])
        _frost(read, words, "", chance, colder, half)
    lacking = [quantity for quantity in WANTED if quantity not in read.columns]
    if lacking:
        say(ready.phrase("weather-no-rain", lacking=", ".join(words[f"weather-{one}"] for one in lacking)))
    elif not faces:
        say(words["weather-faces"])
    else:
        say(words["weather-rain-on"])
        _rain(read, words, _place(faces, terrain, height, slope, on_slope, shelter, shape))


def rain(
    weather: File,
    faces: Faces,
    terrain: Terrain = "II",
    height: Height = 6.0,
    slope: Slope = 0.0,
    on_slope: OnSlope = 0.0,
    shelter: Shelter = 120.0,
    shape: Shape = "two-storey eaves",
    column: Columns = None,
    library: LibraryFolder = None,
) -> None:
    """Reckon the driving rain on a wall (EN ISO 15927-3), to help answer how exposed it is."""
    place = _place(faces, terrain, height, slope, on_slope, shelter, shape)
    _rain(_read(weather, column, None), worded_library(library).words, place)


def frost(
    weather: File,
    column: Columns = None,
    unit: Annotated[str, typer.Option(help="c, f, or tenths of a degree C; known for known columns.")] = "",
    chance: Chance = 10.0,
    colder: Colder = 0.0,
    half: Hemisphere = "north",
    library: LibraryFolder = None,
) -> None:
    """Reckon the days of the first and last frost, to answer early_frost and late_frost."""
    _frost(_read(weather, column, "least"), worded_library(library).words, unit, chance, colder, half)


def _read(path: Path, columns: list[str] | None, usual: Quantity | None) -> WeatherFile:
    """A weather file; columns are named as they are typed, a name alone is that of the usual quantity."""
    from generator.asking.weather.file import named_columns, read_file

    try:
        named = named_columns(columns or (), usual)
    except ValueError as error:
        stop([str(error)], WRONG_USE)
    return or_stop(lambda: read_file(path, named))


def _place(
    faces: str, terrain: str, height: float, slope: float, on_slope: float, shelter: float, shape: str
) -> WallPlace:
    from generator.asking.weather.columns import bearing
    from generator.asking.weather.rain import WallPlace

    degrees = bearing(faces)
    if degrees is None:
        valid = "valid 0 to 360 degrees from north, or a point of the compass such as NNE"
        stop([f"faces is '{faces}': {valid}"], WRONG_USE)
    return WallPlace(degrees, terrain, height, slope, on_slope, shelter, shape)


def _rain(read: WeatherFile, words: Mapping[str, str], place: WallPlace) -> None:
    from generator.asking.weather.file import told_columns
    from generator.asking.weather.rain import WANTED, hours_of, told

    hours = or_stop(lambda: hours_of(read))
    try:
        lines = told(hours, place, words)
    except ValueError as error:
        stop([str(error)], WRONG_USE)
    for line in (told_columns(read, WANTED, words), *lines):
        say(line)


def _frost(read: WeatherFile, words: Mapping[str, str], unit: str, chance: float, colder: float, half: str) -> None:
    from generator.asking.weather.frost import chosen, minima_of, told

    try:
        taken, world = chosen(unit, half)
        lines = told(or_stop(lambda: minima_of(read, taken)), words, chance, colder, world)
    except ValueError as error:
        stop([str(error)], WRONG_USE)
    for line in lines:
        say(line)
