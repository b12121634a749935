"""Our sheets, set by typst."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Literal

from deckward.reports import typeface

_FOLDER = Path(__file__).parent / "sheets"
#: dots per inch of the pictures: a page's pixels one and a half times over
_PPI = 144


class Sheet:
    """One of our sheets with its data: laid out once, whatever is then made of it.

    The machine's fonts are asked only for letters that ours lack.
    """

    def __init__(self, template: str, data: Any) -> None:
        import typst

        text = json.dumps(data, ensure_ascii=False)
        self._compiler = typst.Compiler(
            _FOLDER / template,
            font_paths=[typeface.FOLDER],
            ignore_system_fonts=not typeface.foreign(text),
            sys_inputs={"data": text},
        )

    def pdf(self) -> bytes:
        """Return it as a PDF."""
        (out,) = self._made("pdf", _PPI)
        return out

    def pictures(self, *, ppi: float = _PPI) -> list[bytes]:
        """Return each page as a PNG, ``ppi`` dots per inch."""
        return self._made("png", ppi)

    def told(self, label: str) -> list[Any]:
        """Return what the sheet tells under a label, in the order of its pages."""
        return json.loads(self._compiler.query(f"<{label}>", field="value"))

    def _made(self, kind: Literal["pdf", "png"], ppi: float) -> list[bytes]:
        out = self._compiler.compile(format=kind, ppi=ppi)
        assert out is not None, "typst returns bytes where it is given no file to write"
        return out if isinstance(out, list) else [out]
