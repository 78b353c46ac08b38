"""The spine of the book: the ruler that both pages are measured against, and the handle that closes it."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from app.desk.film_sheet import SPINE_PX
from app.desk.handle import BookHandle
from app.desk.ruler import Ruler
from app.desk.view import CommonView

if TYPE_CHECKING:
    from app.desk.desk import Desk


class Spine(QWidget):
    """As high as the pages, so that a mm on the ruler is a mm on both."""

    def __init__(self, desk: "Desk", view: CommonView) -> None:
        super().__init__()
        self.setFixedWidth(SPINE_PX)
        self.ruler = Ruler(desk, view)
        self.handle = BookHandle(desk, view)
        self.ruler.setParent(self)
        self.handle.setParent(self)

    def resizeEvent(self, event: object) -> None:  # noqa: N802 - Qt's name
        """The ruler takes all of the height; the handle lies on its lower end."""
        del event
        self.ruler.setGeometry(0, 0, self.width(), self.height())
        high = self.handle.sizeHint().height()
        self.handle.setGeometry(0, self.height() - high, self.width(), high)
