"""Pages that stand by themselves, sent as they are: sheets, and the derivation to walk through.

Style and script stand in such a page, so that it can be kept as one file. The policy names them by
their digests: nothing else in the page can act.
"""

from __future__ import annotations

import base64
import hashlib
import re

from starlette.responses import HTMLResponse, Response


def document_response(html: str) -> Response:
    """Return a page of one file, with a policy that lets in its own style and script alone."""
    policy = "; ".join(
        (
            "default-src 'none'",
            f"style-src {_find_digests('style', html)}",
            f"script-src {_find_digests('script', html)}",
            "img-src data:",
            "base-uri 'none'",
            "form-action 'none'",
            "frame-ancestors 'none'",
        )
    )
    return HTMLResponse(html, headers={"content-security-policy": policy})


def _find_digests(tag: str, html: str) -> str:
    found = re.findall(rf"<{tag}>(.*?)</{tag}>", html, re.DOTALL)
    told = [base64.b64encode(hashlib.sha256(one.encode()).digest()).decode() for one in found]
    return " ".join(f"'sha256-{one}'" for one in told) or "'none'"
