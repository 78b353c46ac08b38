"""What can be dropped or pasted: files, and pictures that are no file."""

from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData
from PySide6.QtGui import QImage

from core.job.job import Source

#: The files that hold a picture, as file dialogs want it said.
PICTURES = "*.png *.jpg *.jpeg *.webp *.bmp *.tif *.tiff *.heic *.heif *.avif *.svg *.dxf"


def can_take(data: QMimeData) -> bool:
    """Whether there is a file or a picture in it."""
    return data.hasImage() or any(url.isLocalFile() for url in data.urls())


def found_in(data: QMimeData | None, name: str) -> Path | Source | None:
    """The first file, or the picture under this name; None where there is neither."""
    if data is None:  # an empty clipboard
        return None
    files = [url.toLocalFile() for url in data.urls() if url.isLocalFile()]
    if files:
        return Path(files[0])
    image = data.imageData() if data.hasImage() else None
    return Source(name, _png(image)) if isinstance(image, QImage) and not image.isNull() else None


def _png(image: QImage) -> bytes:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload] # the stubs want bytes, Qt refuses them
    buffer.close()
    return bytes(data.data())
