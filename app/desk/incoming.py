"""What can be dropped or pasted: files, and pictures that are no file."""

from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData
from PySide6.QtGui import QImage

from app.desk.desk import Desk
from core.job.job import Source

#: The files that hold a picture, as file dialogs want it said.
PICTURES = "*.png *.jpg *.jpeg *.webp *.bmp *.tif *.tiff *.heic *.heif *.avif *.svg *.dxf"


def can_take(data: QMimeData) -> bool:
    """Whether there is a file or a picture in it."""
    return data.hasImage() or any(url.isLocalFile() for url in data.urls())


def take(desk: Desk, data: QMimeData | None, name: str, *, is_second: bool = False) -> bool:
    """Open the first file, or the picture under this name; False when there is neither.

    is_second: it is to give the films of the picture that lies there.
    """
    if data is None:  # an empty clipboard
        return False
    files = [url.toLocalFile() for url in data.urls() if url.isLocalFile()]
    if files:
        (desk.open_face if is_second else desk.open_path)(Path(files[0]))
        return True
    image = data.imageData() if data.hasImage() else None
    if not isinstance(image, QImage) or image.isNull():
        return False
    if is_second:
        desk.take_face(Source(name, _png(image)))
    else:
        desk.open_bytes(name, _png(image))
    return True


def _png(image: QImage) -> bytes:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload] # the stubs want bytes, Qt refuses them
    buffer.close()
    return bytes(data.data())
