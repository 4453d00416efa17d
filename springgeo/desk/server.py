"""The desk on this machine: the page and its questions. Nothing else is served."""

from __future__ import annotations

import json
import signal
import socket
import sys
from collections.abc import Callable
from types import FrameType, ModuleType
from typing import Any

from springgeo.desk.desk import BadQuestionError, Desk
from springgeo.desk.guard import Guard, TooLongError
from springgeo.desk.page import page
from springgeo.optional import need
from springgeo.report.document import policy_of

LOOPBACK = "127.0.0.1"
# s
SWITCH = 0.0005


def application(desk: Desk) -> Any:
    """Return the Starlette application, without its guard; raises MissingLibraryError."""
    need("ruamel.yaml", "the desk", "live")
    starlette = need("starlette.applications", "the desk", "live")
    routing = need("starlette.routing", "the desk", "live")
    answers = need("starlette.responses", "the desk", "live")

    async def whole_page(_request: object) -> Any:
        text = page(desk.path.name, desk.reader())
        headers = {"content-security-policy": f"{policy_of(text)}; frame-ancestors 'none'"}
        return answers.HTMLResponse(text, headers=headers)

    async def no_picture(_request: object) -> Any:
        return answers.Response(status_code=204)

    async def ask(request: Any) -> Any:
        if request.headers.get("content-type", "").partition(";")[0] != "application/json":
            return _wrong(answers, 415, "a question is JSON")
        try:
            question = json.loads(await request.body())
        except TooLongError:
            return _wrong(answers, 413, "the question is too long")
        except (ValueError, RecursionError):
            return _wrong(answers, 400, "the question is no JSON")
        try:
            return answers.JSONResponse(await desk.ask(question))
        except BadQuestionError as exc:
            return _wrong(answers, 400, str(exc))

    return starlette.Starlette(
        routes=[
            routing.Route("/", whole_page, methods=["GET"]),
            routing.Route("/ask", ask, methods=["POST"]),
            # browsers ask for one of their own accord
            routing.Route("/favicon.ico", no_picture, methods=["GET"]),
        ]
    )


def _wrong(answers: ModuleType, status: int, words: str) -> Any:
    return answers.JSONResponse({"problem": words}, status_code=status)


def serve(desk: Desk, opened: Callable[[str], object], port: int = 0) -> None:
    """Serve the desk until interrupted.

    Parameters
    ----------
    desk : Desk
    opened : callable
        Is told the page's address once it answers; it opens it once.
    port : int
        0: any free one.

    Raises
    ------
    MissingLibraryError
        starlette or uvicorn is not installed.
    OSError
        The port is taken.
    """
    uvicorn = need("uvicorn", "the desk", "live")
    inner = application(desk)
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((LOOPBACK, port))
        guard = Guard(inner, listening.getsockname()[1])
        config = uvicorn.Config(
            guard,
            log_level="critical",
            access_log=False,
            server_header=False,
            proxy_headers=False,
            lifespan="off",
            ws="none",
            timeout_graceful_shutdown=1,
        )
        server = uvicorn.Server(config)

        class Told(type(server)):  # type: ignore[misc]
            async def startup(self, sockets: list[socket.socket] | None = None) -> None:
                await super().startup(sockets=sockets)
                opened(f"http://{guard.hosts[0]}/?token={guard.token}")

            def handle_exit(self, sig: int, frame: FrameType | None) -> None:
                desk.closing = True
                super().handle_exit(sig, frame)

        # quick numbers share this process with the questions that go on to others: these wait no
        # longer than this for the interpreter
        sys.setswitchinterval(SWITCH)
        # uvicorn raises the signal that ended it once more: this way it ends nothing else first
        before = signal.signal(signal.SIGTERM, _leave)
        try:
            Told(config).run(sockets=[listening])
        except KeyboardInterrupt:
            pass  # the way it ends
        finally:
            signal.signal(signal.SIGTERM, before)
            desk.close()


def _leave(_number: int, _frame: object) -> None:
    raise SystemExit(0)
