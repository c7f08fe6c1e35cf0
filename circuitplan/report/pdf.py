"""HTML -> PDF. The only place that imports WeasyPrint, and only when a PDF is asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from circuitplan.errors import CircuitplanError, MissingSystemLibraryError


def write_pdf(html: str, path: Path) -> None:
    """Write ``html`` as a tagged PDF/UA-1 file, the same bytes for the same HTML.

    Raises MissingSystemLibraryError if WeasyPrint finds no Pango on this machine, and CircuitplanError
    if the page asks for anything that is not inside it.
    """
    weasyprint = _weasyprint()
    # Everything is inside the file: a request for anything outside it is an error.
    fetcher = weasyprint.urls.URLFetcher(allowed_protocols=("data",), fail_on_errors=True)
    document = weasyprint.HTML(string=html, url_fetcher=fetcher)
    try:
        document.write_pdf(str(path), pdf_variant="pdf/ua-1")
    except weasyprint.urls.FatalURLFetchingError as cause:
        raise CircuitplanError(f"the page asks for something outside itself: {cause}") from cause


def _weasyprint() -> Any:
    try:
        import weasyprint
        import weasyprint.urls
    except OSError as cause:
        raise MissingSystemLibraryError(
            "PDF needs the Pango library, which this machine lacks. On Debian or Ubuntu: "
            "apt install libpango-1.0-0 libpangoft2-1.0-0. On macOS: brew install pango. "
            "On Windows install Pango with MSYS2. HTML works without it: print it from a browser."
        ) from cause
    return weasyprint
