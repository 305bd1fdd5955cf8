"""What the window remembers between two starts: its size and the folder last used."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSettings, QSize

_SIZE = QSize(1280, 720)


class Preferences:
    """A few settings in one file of the platform's own place, or in the file that a test gives."""

    def __init__(self, file: Path) -> None:
        self._settings = QSettings(str(file), QSettings.Format.IniFormat)

    @property
    def size(self) -> QSize:
        """The window's size."""
        size = self._settings.value("window/size", _SIZE, type=QSize)
        assert isinstance(size, QSize)
        return size if size.isValid() and size.width() >= 320 and size.height() >= 240 else _SIZE

    @size.setter
    def size(self, size: QSize) -> None:
        self._settings.setValue("window/size", size)

    @property
    def folder(self) -> Path:
        """The folder in which files were last opened or saved."""
        return Path(str(self._settings.value("files/folder", str(Path.home()), type=str)))

    @folder.setter
    def folder(self, folder: Path) -> None:
        self._settings.setValue("files/folder", str(folder))
