"""The server: the socket taken, the address told, and the page served until it is stopped."""

from __future__ import annotations

import socket
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from variants.web.app import Settings, make_app
from variants.web.safety import Keys

#: So long one thread runs before another may; Python's own is 5 ms.
_TURN_S = 0.001


def serve(
    box: Path | None,
    books: Sequence[Path],
    rules: Sequence[Path],
    regions: Sequence[Path],
    host: str,
    port: int,
    *,
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
    import uvicorn

    # Long work in the background should not make a page wait at each of its turns.
    sys.setswitchinterval(_TURN_S)
    keys = Keys.for_host(host, _own_names())
    app = make_app(Settings(box, books, rules, regions, keys))
    taken = _listening(host, port)
    address = _address(host, taken.getsockname()[1])
    tell(f"Flykin is at {address}")
    if keys.token is not None:
        tell(f"Other machines can reach it; the page asks for this token: {keys.token}")
    tell("Stop it with Ctrl-C.")
    config = uvicorn.Config(
        app, log_level="error", access_log=False, server_header=False, proxy_headers=False,
        h11_max_incomplete_event_size=64 * 1024, timeout_graceful_shutdown=2, ws="none",
    )  # fmt: skip
    if is_opened:
        import webbrowser

        webbrowser.open(address)
    with taken:
        uvicorn.Server(config).run(sockets=[taken])


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
