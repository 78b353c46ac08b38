"""The open book: the part's page, the spine with the one ruler, the film's page; below, the depth strip."""

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.desk.depth_strip import DepthStrip
from app.desk.desk import Desk
from app.desk.film_page import FilmPage
from app.desk.part_page import PartPage
from app.desk.picture_tools import PictureTools
from app.desk.play import Play
from app.desk.spine import Spine
from app.desk.view import CommonView


class Spread(QWidget):
    """Made when there is a first thing to show: its pages bring in what drawing them needs."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.view = CommonView(self)
        self.part = PartPage(desk, self.view)
        self.film = FilmPage(desk, self.view)
        self.spine = Spine(desk, self.view)
        self.tools = PictureTools(desk, self.view)
        self.play = Play(desk, self)
        self.part.follow(self.play)
        self.depth_strip = DepthStrip(desk, self.play)
        pages = QHBoxLayout()
        pages.setSpacing(0)
        pages.addWidget(self.part, 1)
        pages.addWidget(self.spine)
        pages.addWidget(self.film, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.tools)
        column.addLayout(pages, 1)
        column.addWidget(self.depth_strip)
