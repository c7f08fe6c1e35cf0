"""HTML -> PDF. The only place that imports WeasyPrint, and only when a PDF is asked for."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from circuitplan.errors import CircuitplanError, MissingSystemLibraryError
from circuitplan.report.pdf_tags import mend

_UA_1 = b"""\
<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">\
<pdfuaid:part>1</pdfuaid:part></rdf:Description>\
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" \
xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" \
xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#"><pdfaExtension:schemas><rdf:Bag>\
<rdf:li rdf:parseType="Resource"><pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>\
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>\
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix><pdfaSchema:property><rdf:Seq>\
<rdf:li rdf:parseType="Resource"><pdfaProperty:name>part</pdfaProperty:name>\
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>\
<pdfaProperty:category>internal</pdfaProperty:category>\
<pdfaProperty:description>part of ISO 14289 that is followed</pdfaProperty:description></rdf:li>\
</rdf:Seq></pdfaSchema:property></rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>"""
"""PDF/UA-1 beside PDF/A-3 (ISO 19005-3 asks for the extension schema); as both are usually told."""


@dataclass(frozen=True, slots=True)
class Enclosed:
    """A file inside the PDF; ``relation`` is Source or Data (ISO 19005-3, AFRelationship)."""

    name: str
    content: bytes
    relation: str
    description: str


def write_pdf(html: str, path: Path, enclosed: Sequence[Enclosed] = ()) -> None:
    """Write ``html`` as a tagged PDF/A-3a and PDF/UA-1 file, the same bytes for the same input.

    Raises MissingSystemLibraryError if WeasyPrint finds no Pango on this machine, and
    CircuitplanError if the page asks for anything that is not inside it.
    """
    weasyprint = _weasyprint()
    # Everything is inside the file: a request for anything outside it is an error.
    fetcher = weasyprint.urls.URLFetcher(allowed_protocols=("data",), fail_on_errors=True)
    page = weasyprint.HTML(string=html, url_fetcher=fetcher)
    # Dates of the files inside would differ from run to run; the plan itself carries its date.
    never = datetime(2000, 1, 1, tzinfo=UTC)
    inside = [
        weasyprint.Attachment(
            string=e.content, name=e.name, description=e.description, relationship=e.relation,
            created=never, modified=never,
        )
        for e in enclosed
    ]  # fmt: skip
    try:
        document = page.render(pdf_variant="pdf/a-3a")
        _say_accessible(document.metadata)
        with warnings.catch_warnings():  # WeasyPrint leaves its colour profile's file open
            warnings.simplefilter("ignore", ResourceWarning)
            document.write_pdf(
                str(path), finisher=lambda _, pdf: mend(pdf), pdf_variant="pdf/a-3a",
                attachments=inside,
            )
    except weasyprint.urls.FatalURLFetchingError as cause:
        raise CircuitplanError(f"the page asks for something outside itself: {cause}") from cause


def _say_accessible(metadata: Any) -> None:
    """Add the identification of PDF/UA-1 to the metadata that WeasyPrint writes for PDF/A-3."""
    write = metadata.generate_rdf_metadata

    def both(variant: str, version: int, conformance: str | None) -> bytes:
        made: bytes = write(variant, version, conformance)
        return made.replace(b"</rdf:RDF>", _UA_1 + b"</rdf:RDF>")

    metadata.generate_rdf_metadata = both


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
