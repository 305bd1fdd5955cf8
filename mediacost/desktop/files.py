"""Questions about files, each behind one small function so that a test can answer it.

Dialogs are fetched when they are asked for: a window that has only just opened needs none.
"""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QWidget

_KINDS = "Scenarios (*.mediacost *.toml);;All files (*)"


def ask_open(parent: QWidget, folder: Path) -> Path | None:
    """Which file to open; None if none."""
    from PySide6.QtWidgets import QFileDialog

    name, _ = QFileDialog.getOpenFileName(parent, "Open a scenario", str(folder), _KINDS)
    return Path(name) if name else None


def ask_save(parent: QWidget, suggestion: Path) -> Path | None:
    """Under which name to save; None if not at all. The dialog asks before it replaces a file."""
    from PySide6.QtWidgets import QFileDialog

    dialog = QFileDialog(parent, "Save the scenario as", str(suggestion.parent), _KINDS)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    # Set here and not added afterwards, so that the dialog asks about the name that is really written.
    dialog.setDefaultSuffix("mediacost")
    dialog.selectFile(suggestion.name)
    chosen = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    return Path(chosen[0]) if chosen else None


def ask_unsaved(parent: QWidget, name: str) -> str:
    """What to do with changes that are not saved: 'save', 'drop' or 'stay'."""
    from PySide6.QtWidgets import QMessageBox

    box = QMessageBox(QMessageBox.Icon.Question, "Not saved", f"{name} has changes that are not saved.", parent=parent)
    save = box.addButton("Save them", QMessageBox.ButtonRole.AcceptRole)
    drop = box.addButton("Close without them", QMessageBox.ButtonRole.DestructiveRole)
    stay = box.addButton("Go on working", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(save)
    box.setEscapeButton(stay)
    box.exec()
    clicked = box.clickedButton()
    return "save" if clicked is save else "drop" if clicked is drop else "stay"
