"""Access control: who may ask the page for what, checked before a request reaches a page.

The page is for the person at this machine. Other web sites that are open in the same browser must
not be able to ask it anything, whatever name they reach it by (Host), from wherever they send a
form (Origin, Sec-Fetch-Site, the CSRF token in every form). Where other machines can reach it, a
token is asked for first. The middleware also limits what a request may carry, and sends the headers
by which a browser runs nothing but our own script and loads nothing from elsewhere.
"""

from __future__ import annotations

import hmac
import ipaddress
import secrets
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from http import HTTPStatus
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import HTTPConnection
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from variants.web.errors import RequestError

LOOPBACK = ("127.0.0.1", "localhost", "::1")
#: A pasted dressing travels in the link; no dressing is longer.
LONGEST_QUERY = 12_000
#: The largest form is one row of a box.
LARGEST_BODY = 64 * 1024
#: Where the token is given; with the style, all that may be seen before.
SIGN_IN_PATH = "/enter"
_COOKIE = "flykin_entered"
#: Of a Host header that tells none.
_HTTP_PORT = 80
_FORM = "application/x-www-form-urlencoded"
_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
_HEADERS = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    # Not "no-referrer": with it browsers send forms with the origin "null".
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
}


def is_loopback(host: str) -> bool:
    """Tell whether only this machine can reach an address."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@dataclass(frozen=True)
class AccessPolicy:
    """The secrets of one run of the server, and the names by which it may be called.

    Attributes
    ----------
    names : frozenset of str
        Host names that are ours, lower case. Where a token is asked, addresses written as numbers
        are ours as well: no other site can have such a name.
    port : int or None
        The one we listen at, which a Host header has to tell; None holds for any.
    reached_at : str
        The origin of a proxy or tunnel in front, such as ``https://flies.example``.
    token : str or None
        What must be given before anything is shown.
    csrf_token : str
        Stands in every form of ours; no other site can read it.
    """

    names: frozenset[str] = frozenset(LOOPBACK)
    port: int | None = None
    reached_at: str = ""
    token: str | None = None
    csrf_token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    session_token: str = field(default_factory=lambda: secrets.token_urlsafe(24))

    @classmethod
    def for_host(
        cls,
        host: str,
        more_names: Iterable[str] = (),
        port: int | None = None,
        reached_at: str = "",
    ) -> AccessPolicy:
        """Return fresh keys for a server bound to a host; a token unless only we can reach it."""
        names = frozenset(name.lower() for name in (*LOOPBACK, host, *more_names))
        outside = urlsplit(reached_at).hostname if reached_at else "localhost"
        is_own = is_loopback(host) and is_loopback(outside or "")
        return cls(names, port, reached_at, None if is_own else secrets.token_urlsafe(18))

    def is_known_host(self, host: str) -> bool:
        """Tell whether a Host header names this server."""
        if self._is_proxy(host):
            return True
        name, port = _name_and_port(host)
        if not name or (self.port is not None and port != self.port):
            return False
        return name in self.names or (self.token is not None and _is_address(name))

    def origin(self, host: str, scheme: str) -> str:
        """Return the origin of our own pages for who reaches us by that Host header."""
        return self.reached_at if self._is_proxy(host) else f"{scheme}://{host}"

    def _is_proxy(self, host: str) -> bool:
        return bool(self.reached_at) and host.lower() == urlsplit(self.reached_at).netloc

    def is_csrf_token(self, csrf_token: str) -> bool:
        """Tell whether a form comes from a page of this run."""
        return hmac.compare_digest(csrf_token.encode(), self.csrf_token.encode())

    def is_token(self, given: str) -> bool:
        """Tell whether this is the token."""
        return self.token is not None and hmac.compare_digest(given.encode(), self.token.encode())

    def set_session_cookie(self, response: Response, host: str) -> None:
        """Remember on the browser's side that the token was given, over https only that way."""
        is_safe = self.origin(host, "http").startswith("https:")
        response.set_cookie(
            _COOKIE, self.session_token, httponly=True, samesite="strict", secure=is_safe
        )

    def is_authenticated(self, connection: HTTPConnection) -> bool:
        """Tell whether who asks has given the token, where one is asked."""
        if self.token is None:
            return True
        given = connection.cookies.get(_COOKIE, "")
        return hmac.compare_digest(given.encode(), self.session_token.encode())


def _name_and_port(host: str) -> tuple[str, int]:
    """Return the name and port in a Host header; an empty name when it is no host at all."""
    try:
        parts = urlsplit(f"//{host}")
        port = _HTTP_PORT if parts.port is None else parts.port
    except ValueError:
        return "", 0
    is_bare = not (parts.path or parts.query or parts.fragment or parts.username)
    return (parts.hostname or "" if is_bare else ""), port


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


#: Makes the page that tells of a refusal.
ErrorPage = Callable[[Scope, RequestError], Response]


class AccessMiddleware:
    """Stands before the application and refuses what it should not hear.

    Parameters
    ----------
    app : ASGI application
    access : AccessPolicy
    error_page : callable
        Makes the page of a refusal.
    """

    def __init__(self, app: ASGIApp, access: AccessPolicy, error_page: ErrorPage) -> None:
        self.app, self.access, self.error_page = app, access, error_page

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse the request, or pass it on with a limit on its body and our headers added."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        guarded = _with_headers(send)
        try:
            self._check(scope)
            await self.app(scope, _limited(receive), guarded)
        except RequestError as refused:
            await self.error_page(scope, refused)(scope, receive, guarded)

    def _check(self, scope: Scope) -> None:
        headers = Headers(scope=scope)
        self._check_names(scope, headers)
        if scope["method"] not in ("GET", "HEAD", "POST"):
            raise RequestError(
                HTTPStatus.METHOD_NOT_ALLOWED, "This page only reads and takes forms."
            )
        if len(scope["query_string"]) > LONGEST_QUERY:
            raise RequestError(
                HTTPStatus.REQUEST_URI_TOO_LONG,
                f"The link is {len(scope['query_string'])} characters long; {LONGEST_QUERY} is the"
                " most.",
                "A pasted dressing travels in the link. Paste one dressing, not a whole book; for a"
                " book there is the command flykin read.",
            )
        if scope["method"] == "POST":
            _check_form(headers)
        if not self.access.is_authenticated(HTTPConnection(scope)) and not _is_public(
            scope["path"]
        ):
            raise RequestError(
                HTTPStatus.UNAUTHORIZED,
                "Other machines can reach this page, so it asks for the token first.",
                "The token stands in the terminal in which the page was started.",
            )

    def _check_names(self, scope: Scope, headers: Headers) -> None:
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self.access.is_known_host(hosts[0]):
            raise RequestError(
                HTTPStatus.MISDIRECTED_REQUEST,
                "This page does not go by that name.",
                "Open it by the address that the terminal showed when it was started.",
            )
        origin, came_from = headers.get("origin"), headers.get("sec-fetch-site")
        is_post = scope["method"] == "POST"
        if (origin is not None or is_post) and origin != self.access.origin(
            hosts[0], scope["scheme"]
        ):
            raise RequestError(
                HTTPStatus.FORBIDDEN,
                "The form was not sent from this page.",
                "Open the page itself and send the form from there.",
            )
        is_visit = headers.get("sec-fetch-mode") == "navigate" and not is_post
        if came_from not in (None, "same-origin", "none") and not is_visit:
            raise RequestError(
                HTTPStatus.FORBIDDEN,
                "Another site asked for this in your name.",
                "Open the page itself.",
            )


def _is_public(path: str) -> bool:
    return path == SIGN_IN_PATH or path.startswith("/static/")


def _check_form(headers: Headers) -> None:
    if headers.get("content-type", "").partition(";")[0].strip().lower() != _FORM:
        raise RequestError(
            HTTPStatus.UNSUPPORTED_MEDIA_TYPE, "Only forms of this page are taken.", ""
        )
    told = headers.get("content-length", "0")
    if not told.isdecimal() or int(told[:12]) > LARGEST_BODY:
        raise _too_large()


def _too_large() -> RequestError:
    return RequestError(
        HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
        f"The form is larger than {LARGEST_BODY // 1024} kB.",
        "Shorten what you wrote. A whole box is read from a file, with flykin box.",
    )


def _limited(receive: Receive) -> Receive:
    """Return a receiver that breaks off a body which grows beyond the limit."""
    got = 0

    async def take() -> Message:
        nonlocal got
        message = await receive()
        got += len(message.get("body", b""))
        if got > LARGEST_BODY:
            raise _too_large()
        return message

    return take


def _with_headers(send: Send) -> Send:
    async def tell(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-cache")
        await send(message)

    return tell
