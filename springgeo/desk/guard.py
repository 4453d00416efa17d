"""Who may ask: this machine's own browser, from the desk's own page, having had the token once.

A page elsewhere could make a browser ask a server of this machine, also under a name of its own
that points here (DNS rebinding): so the name asked for, where the question comes from, and a
secret that only the opened page was given are all looked at, for every question.
"""

from __future__ import annotations

import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

# of a question, bytes: the largest specification as JSON, and what stands about it
LARGEST = 2_500_000
_HEADERS = {
    "cache-control": "no-store",
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "x-frame-options": "DENY",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]


@dataclass(eq=False)
class Guard:
    """An ASGI application before another one.

    Parameters
    ----------
    app : ASGI application
    port : int
        Of the desk.
    token : str
        Opens the page once; then a cookie stands for it.
    """

    app: App
    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    _secret: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    _spent: bool = False

    @property
    def hosts(self) -> tuple[str, str]:
        """Names by which the desk is asked for."""
        return f"127.0.0.1:{self.port}", f"localhost:{self.port}"

    @property
    def cookie(self) -> str:
        """Name of the cookie: cookies do not tell ports apart, names do."""
        return f"springgeo-desk-{self.port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a question pass, or refuse it in one line."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        headers = {k.decode("latin-1"): v.decode("latin-1") for k, v in scope["headers"]}
        entered = self._enters(scope)
        refusal = self._refusal(scope, headers, entered)
        if refusal is not None:
            await _refused(send, *refusal)
            return
        if entered:
            self._spent = True
        await self.app(scope, _bounded(receive), self._signed(send, entered))

    def _enters(self, scope: Scope) -> bool:
        """Return whether a question brings the token, for the first time."""
        given = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        good = secrets.compare_digest(given.encode(), self.token.encode())
        return good and not self._spent and scope["path"] == "/" and scope["method"] == "GET"

    def _refusal(
        self, scope: Scope, headers: dict[str, str], entered: bool
    ) -> tuple[int, str] | None:
        if headers.get("host", "").lower() not in self.hosts:
            return 421, "this desk answers to 127.0.0.1 alone"
        origin = headers.get("origin")
        if origin is not None and origin.lower() not in {f"http://{h}" for h in self.hosts}:
            return 403, "asked from another place"
        if scope["method"] not in ("GET", "HEAD") and origin is None:
            return 403, "asked from nowhere"
        if headers.get("sec-fetch-site", "none") not in ("same-origin", "none"):
            return 403, "asked from another place"
        if not entered and not self._known(headers.get("cookie", "")):
            return 403, "the link opens the desk once; start springgeo open again for a new one"
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > LARGEST:
            return 413, "the question is too long"
        return None

    def _known(self, cookies: str) -> bool:
        try:
            found = SimpleCookie(cookies).get(self.cookie)
        except CookieError:
            return False
        given = "" if found is None else found.value
        return secrets.compare_digest(given.encode(), self._secret.encode())

    def _signed(self, send: Send, entered: bool) -> Send:
        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                more = dict(_HEADERS)
                if entered:
                    kept = f"{self.cookie}={self._secret}; Path=/; HttpOnly; SameSite=Strict"
                    more["set-cookie"] = kept
                headers = [(k.encode(), v.encode()) for k, v in more.items()]
                message = {**message, "headers": [*message.get("headers", ()), *headers]}
            await send(message)

        return sending


class TooLongError(Exception):
    """A question went on beyond what it may be."""


def _bounded(receive: Receive) -> Receive:
    """Return a receiver that ends a question whose length was not said, or said wrong."""
    had = 0

    async def receiving() -> Message:
        nonlocal had
        message = await receive()
        had += len(message.get("body", b""))
        if had > LARGEST:
            raise TooLongError
        return message

    return receiving


async def _refused(send: Send, status: int, words: str) -> None:
    body = f"springgeo: {words}\n".encode()
    headers = {**_HEADERS, "content-type": "text/plain; charset=utf-8"}
    headers["content-security-policy"] = "default-src 'none'"
    pairs = [(k.encode(), v.encode()) for k, v in headers.items()]
    await send({"type": "http.response.start", "status": status, "headers": pairs})
    await send({"type": "http.response.body", "body": body})
