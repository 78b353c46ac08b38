"""The piece of film that a sheet box needs: with room for rollers, and what if there is less."""

from dataclasses import dataclass

from core.findings import Finding, Level, Point

Size = tuple[float, float]


@dataclass(frozen=True)
class FilmStock:
    """The film that is there, mm; None where that is not known. roller_mm is kept free on every side."""

    width_mm: float | None = None
    length_mm: float | None = None
    roller_mm: float = 0.0

    def piece_for(self, box_mm: Size) -> Size:
        """Width and length of film that a sheet box (width, depth) takes."""
        return box_mm[0] + 2.0 * self.roller_mm, box_mm[1] + 2.0 * self.roller_mm

    def holds(self, piece_mm: Size) -> bool:
        """Whether the film is as wide and as long as the piece."""
        wide, long = piece_mm
        return wide <= (self.width_mm or wide) and long <= (self.length_mm or long)


def film_findings(stock: FilmStock, box_mm: Size, at: Point | None = None) -> tuple[Finding, ...]:
    """A caution at a place where film is too small for the sheet box; a quarter turn told where it helps."""
    piece = stock.piece_for(box_mm)
    if stock.holds(piece):
        return ()
    has = " and ".join(
        f"{size:g} mm {what}"
        for size, what in ((stock.width_mm, "wide"), (stock.length_mm, "long"))
        if size is not None
    )
    text = (
        f"The films take a piece {piece[0]:g} mm wide and {piece[1]:g} mm long, with {stock.roller_mm:g} mm "
        f"for the rollers on every side; the film is {has}."
    )
    turned = stock.holds((piece[1], piece[0]))
    remedy = (
        "Turn the drawing by a quarter in the cutter's program: then it fits."
        if turned
        else "Take a wider film, make fewer copies, or make the shape smaller."
    )
    return (Finding(Level.CAUTION, "film-too-wide", text, remedy, at),)
