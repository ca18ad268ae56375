"""The server: the socket taken, the address told, and the page served until it is stopped."""

from __future__ import annotations

import logging
import socket
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from variants.web.app import Settings, make_app
from variants.web.connections import LimitedProtocol
from variants.web.log_handler import OneLineHandler
from variants.web.safety import AccessPolicy

if TYPE_CHECKING:
    from starlette.applications import Starlette
    from uvicorn import Server

#: So long one thread runs before another may; Python's own is 5 ms.
_TURN_S = 0.001
#: So many connections are taken before the first is looked at; each is a file of the system.
_BACKLOG = 64
#: So many files of the system one connection may need, with those that are being closed.
_FILES_OF_ONE = 3
#: Room for the longest link and a browser's own lines.
LONGEST_HEAD = 64 * 1024


def serve(
    box: Path | None,
    books: Sequence[Path],
    rules: Sequence[Path],
    regions: Sequence[Path],
    host: str,
    port: int,
    *,
    reached_at: str = "",
    is_opened: bool = False,
    tell: Callable[[str], None] = print,
) -> None:
    """Serve the page until Ctrl-C.

    Parameters
    ----------
    box, books, rules, regions
        As in `Settings`.
    host : str
        The address to listen at; unless it is loopback, a token is asked and told here.
    port : int
        0 takes a free one.
    reached_at : str
        As in `AccessPolicy`: where a proxy or tunnel in front serves the page.
    is_opened : bool
        Whether to open the page in the user's browser.
    tell : callable
        Hears the lines for the terminal.

    Raises
    ------
    OSError
        When the address can't be listened at.
    InputError
        When the rules can't be read.
    """
    # Long work in the background should not make a page wait at each of its turns.
    sys.setswitchinterval(_TURN_S)
    with _listening(host, port) as taken, _one_line_each(tell):
        access = AccessPolicy.for_host(host, _own_names(), taken.getsockname()[1], reached_at)
        app = make_app(Settings(box, books, rules, regions, access))
        address = _address(host, taken.getsockname()[1])
        tell(f"Flykin is at {address}")
        if access.token is not None:
            tell(f"Other machines can reach it; the page asks for this token: {access.token}")
            if reached_at.startswith("https:"):
                tell(f"Through your proxy it is at {reached_at}/")
            else:
                tell("Token and page travel in the clear; flykin serve --help says what to do.")
        tell("Stop it with Ctrl-C.")
        if is_opened:
            import webbrowser

            webbrowser.open(address)
        make_server(app).run(sockets=[taken])


def make_server(app: Starlette, protocol: type[LimitedProtocol] | None = None) -> Server:
    """Return the server of a page; a test may give a protocol of other limits."""
    import uvicorn

    return uvicorn.Server(
        uvicorn.Config(
            app, http=protocol or _protocol(), log_config=None, log_level="error",
            access_log=False, server_header=False, proxy_headers=False, ws="none", lifespan="off",
            backlog=_BACKLOG, h11_max_incomplete_event_size=LONGEST_HEAD,
            timeout_graceful_shutdown=2,
        )
    )  # fmt: skip


def _protocol() -> type[LimitedProtocol]:
    """Return the protocol, with no more connections than the system has files for."""
    try:
        import resource
    except ImportError:  # no such limit is known here
        return LimitedProtocol
    files, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    if files == resource.RLIM_INFINITY or files >= _FILES_OF_ONE * LimitedProtocol.most_open:
        return LimitedProtocol
    most = max(1, files // _FILES_OF_ONE)
    return type("LimitedProtocol", (LimitedProtocol,), {"most_open": most})


@contextmanager
def _one_line_each(tell: Callable[[str], None]) -> Iterator[None]:
    """Let trouble of the server's own be told in one line."""
    handler = OneLineHandler(tell)
    logging.getLogger().addHandler(handler)
    try:
        yield
    finally:
        logging.getLogger().removeHandler(handler)


def _own_names() -> list[str]:
    name = socket.gethostname()
    return [name, f"{name}.local"]


def _listening(host: str, port: int) -> socket.socket:
    family, kind, protocol, _, address = socket.getaddrinfo(
        host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
    )[0]
    taken = socket.socket(family, kind, protocol)
    try:
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        taken.bind(address)
        taken.listen(128)
    except OSError:
        taken.close()
        raise
    return taken


def _address(host: str, port: int) -> str:
    shown = "127.0.0.1" if host in ("0.0.0.0", "::") else host
    return f"http://[{shown}]:{port}/" if ":" in shown else f"http://{shown}:{port}/"
