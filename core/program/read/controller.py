"""What a controller keeps in mind from line to line, and what each motion makes of it."""

from math import isnan, nan

from core.program.read.arc import MM_PER_INCH, ArcWords, MismatchRule, centre_by_offsets, centre_by_radius
from core.program.read.leniency import Leniency
from core.program.read.lexer import refuse
from core.program.read.program import Event, EventKind
from core.program.read.record import Record

RAPID, LINE, CLOCKWISE, COUNTER_CLOCKWISE, NO_MOTION = 0, 1, 2, 3, 80
XY_PLANE = 170

Axes = tuple[float | None, float | None, float | None]
Place = tuple[float, float, float]


class Controller:
    """The modal state (NISTIR 6556 3.2, 3.4). Lengths are kept in mm, nan where nothing was said."""

    __slots__ = (
        "distance_line",
        "ended",
        "feed",
        "feed_mode_line",
        "is_absolute",
        "leniency",
        "motion",
        "plane",
        "plane_line",
        "record",
        "rpm",
        "rule",
        "speed",
        "turn",
        "unit",
        "units_line",
        "x",
        "y",
        "z",
    )  # fmt: skip

    def __init__(self, leniency: Leniency) -> None:
        self.leniency = leniency
        self.record = Record()
        self.x = self.y = self.z = nan
        self.motion = NO_MOTION
        self.plane = XY_PLANE
        self.is_absolute = True
        self.unit = 1.0
        self.rule = MismatchRule.of(leniency, self.unit)
        self.feed = nan
        self.speed = 0.0
        self.turn = 0
        self.rpm = 0.0
        self.units_line: int | None = None
        self.distance_line: int | None = None
        self.feed_mode_line: int | None = None
        self.plane_line: int | None = None
        self.ended = False

    def say(self, kind: EventKind, line: int, value: float) -> None:
        """Note something that takes effect before the next move."""
        self.record.events.append(Event(kind, line, self.record.count(), value))

    def set_units(self, unit: float, line: int) -> None:
        """From here on numbers are in this many mm; a feed given before has lost its meaning."""
        if self.units_line is None or unit != self.unit:
            self.feed = nan
        self.units_line = self.units_line or line
        self.unit = unit
        self.rule = MismatchRule.of(self.leniency, unit)

    def set_feed(self, feed: float, line: int) -> None:
        """Feed in units per minute, above 0."""
        if feed <= 0.0:
            refuse(line, "a feed of 0 or less moves nothing")
        self.feed = feed * self.unit

    def set_speed(self, speed: float, line: int) -> None:
        """Spindle speed in turns per minute, 0 or more (3.7.2)."""
        if speed < 0.0:
            refuse(line, "a spindle speed is not below 0")
        self.speed = speed
        self._spin(line)

    def set_spindle(self, turn: int, line: int) -> None:
        """1 for M3, -1 for M4, 0 for M5."""
        self.turn = turn
        self._spin(line)

    def _spin(self, line: int) -> None:
        rpm = self.turn * self.speed
        if rpm != self.rpm:
            self.rpm = rpm
            self.say(EventKind.SPINDLE, line, rpm)

    def unit_name(self) -> str:
        """The file's unit in a word, "" when it never says."""
        if self.units_line is None:
            return ""
        return "inch" if self.unit == MM_PER_INCH else "mm"

    def stand_still(self, line: int, *, is_told: bool, arc: ArcWords | None) -> None:
        """A line without coordinates; is_told when it names a motion all the same."""
        if arc is not None:
            refuse(line, "I, J or R stand without X or Y")
        if is_told and self.motion != NO_MOTION and not self.leniency.bare_motion_words:
            refuse(line, "a motion code stands without a coordinate")

    def move(self, line: int, axes: Axes, arc: ArcWords | None) -> None:
        """One motion in the mode in force; axes in units of the file, None where a word is absent."""
        if self.motion == NO_MOTION:
            refuse(line, "coordinates stand where no motion (G0 to G3) is in force")
        end = self._absolute(axes) if self.is_absolute else self._incremental(axes, line)
        if self.motion >= CLOCKWISE:
            self._arc(line, axes, end, arc)
        else:
            self._straight(line, end, arc)
        self.x, self.y, self.z = end

    def _absolute(self, axes: Axes) -> Place:
        x, y, z = axes
        unit = self.unit
        return (
            self.x if x is None else x * unit,
            self.y if y is None else y * unit,
            self.z if z is None else z * unit,
        )

    def _incremental(self, axes: Axes, line: int) -> Place:
        now = (self.x, self.y, self.z)
        if any(by is not None and isnan(at) for at, by in zip(now, axes, strict=True)):
            refuse(line, "an incremental move starts from a place that the file has not told")
        x, y, z = (at + self.unit * (by or 0.0) for at, by in zip(now, axes, strict=True))
        return x, y, z

    def _straight(self, line: int, end: Place, arc: ArcWords | None) -> None:
        if arc is not None:
            refuse(line, "I, J or R stand with a straight move")
        if self.motion == RAPID:
            row = (*end, nan, nan, 0.0, 1.0, nan, self.rpm, line)
        else:
            row = (*end, nan, nan, 0.0, 0.0, self._feed(line), self.rpm, line)
        self.record.rows.extend(row)

    def _arc(self, line: int, axes: Axes, end: Place, arc: ArcWords | None) -> None:
        if self.plane != XY_PLANE:
            refuse(line, "an arc lies in another plane than X, Y (G17)")
        if axes[0] is None and axes[1] is None:
            refuse(line, "an arc has neither X nor Y")
        if arc is None:
            refuse(line, "an arc has neither I nor J")
        if isnan(self.x) or isnan(self.y):
            refuse(line, "an arc starts from a place that the file has not told")
        turn = 1 if self.motion == COUNTER_CLOCKWISE else -1
        centre = self._centre(line, (end[0], end[1]), arc, turn)
        self.record.rows.extend((*end, *centre, turn, 0.0, self._feed(line), self.rpm, line))

    def _centre(self, line: int, end: tuple[float, float], arc: ArcWords, turn: int) -> tuple[float, float]:
        start, unit = (self.x, self.y), self.unit
        if arc.r is None:
            offset = ((arc.i or 0.0) * unit, (arc.j or 0.0) * unit)
            return centre_by_offsets(start, end, offset, line, self.rule)
        if arc.i is not None or arc.j is not None:
            refuse(line, "an arc has both a radius and a centre")
        return centre_by_radius(start, end, arc.r * unit, turn, line)

    def _feed(self, line: int) -> float:
        if isnan(self.feed) and not self.leniency.no_feed:
            refuse(line, "a cutting move has no feed that was given in the unit in force")
        return self.feed
