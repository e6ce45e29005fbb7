"""Who may ask and how much may be sent: the host, the key, the origin of what is posted, and the headers of answers."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

LOOPBACK: Final = ("127.0.0.1", "localhost", "[::1]")
MOST_FORM_BYTES: Final = 1_000_000
"""Of a form without files; the longest list of answers takes a tenth of it."""

MOST_FIELDS: Final = 2_000
MOST_UPLOAD_BYTES: Final = 44_000_000
"""Of a form with a photograph: a little over the largest that is read, which is told by its reader."""

HEADERS: Final[Mapping[str, str]] = {
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' blob:; connect-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    # `no-referrer` would make browsers send forms with no origin; the key leaves the address at the first page
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}
"""Of every answer: nothing from elsewhere, nothing kept, in nobody's frame."""


@dataclass(frozen=True, slots=True)
class Guard:
    """The key of a run, and the names under which it may be reached."""

    port: int
    hosts: tuple[str, ...] = LOOPBACK
    key: str = field(default_factory=lambda: secrets.token_urlsafe(18))

    @property
    def cookie(self) -> str:
        """The name of the cookie: of this port, since cookies know no ports."""
        return f"gaugebox-{self.port}"

    @property
    def network_address(self) -> str:
        """The address with the key for others on the network; "" where none is let in."""
        named = [host for host in self.hosts if host not in LOOPBACK]
        return f"http://{named[0]}:{self.port}/?key={self.key}" if named else ""

    def knows_host(self, host: str) -> bool:
        """Whether a request names a host that this run answers for: a page elsewhere may point a name at this one."""
        return host in {f"{name}:{self.port}" for name in self.hosts} | (set(self.hosts) if self.port == 80 else set())

    def holds(self, key: str) -> bool:
        """Whether a key is that of this run."""
        return hmac.compare_digest(key.encode("utf-8", "replace"), self.key.encode())

    def came_from_here(self, host: str, origin: str | None, site: str | None) -> bool:
        """Whether what is posted comes from a page of this run, by what the browser says of it."""
        if origin is not None:
            return origin == f"http://{host}"
        return site == "same-origin"
