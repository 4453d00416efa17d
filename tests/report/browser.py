"""A headless browser over its DevTools protocol: open a page, act on it, look at it."""

from __future__ import annotations

import base64
import io
import json
import shutil
import subprocess
import tempfile
from itertools import count
from pathlib import Path
from typing import Any

import numpy as np

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-default-apps",
    "--disable-dev-shm-usage",
    "--force-color-profile=srgb",
    "--hide-scrollbars",
    "--mute-audio",
    "--remote-debugging-port=0",
    "--remote-allow-origins=*",
)
NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


def find_browser() -> str | None:
    """Return the path of a browser that speaks the protocol, or None."""
    return next((p for name in NAMES if (p := shutil.which(name))), None)


class Browser:
    """One process; ``page`` opens a tab. More ``flags`` than ``FLAGS`` may be given."""

    def __init__(self, *flags: str) -> None:
        program = find_browser()
        assert program is not None
        self._home = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        self._process = subprocess.Popen(
            [program, *FLAGS, *flags, f"--user-data-dir={self._home.name}", "about:blank"],
            stderr=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            text=True,
        )
        assert self._process.stderr is not None
        for line in self._process.stderr:
            if "DevTools listening on" in line:
                self._address = line.split("listening on")[1].strip()
                break
        else:
            raise RuntimeError("the browser did not start")
        import threading

        # nobody reads the rest, but a full pipe would stop the browser
        threading.Thread(target=self._process.stderr.read, daemon=True).start()

    def page(self) -> Page:
        """Return a new, empty tab."""
        return Page(self._address)

    def close(self) -> None:
        """End the process."""
        self._process.terminate()
        self._process.wait()
        self._home.cleanup()


class Page:
    """One tab: what it logged, what it asked of the network, what it shows."""

    def __init__(self, address: str) -> None:
        import websocket

        self._socket = websocket.create_connection(address, timeout=60, max_size=None)
        self._numbers = count(1)
        self._session: str | None = None
        self._alive = True
        self._window = (0, 0)
        self.log: list[str] = []
        self.requests: list[str] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        attached = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self._session = attached["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(f"{domain}.enable")

    def call(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Send one command and return its result; events met on the way are kept."""
        number = next(self._numbers)
        message = {"id": number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        self._socket.send(json.dumps(message))
        while True:
            answer = json.loads(self._socket.recv())
            if answer.get("id") == number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']['message']}")
                return answer["result"]
            self._event(answer)

    def _event(self, event: dict[str, Any]) -> None:
        name, what = event.get("method"), event.get("params", {})
        if name == "Network.requestWillBeSent":
            self.requests.append(what["request"]["url"])
        elif name == "Runtime.exceptionThrown":
            self.log.append(json.dumps(what["exceptionDetails"]))
        elif name == "Runtime.consoleAPICalled" and what["type"] in ("error", "warning", "assert"):
            self.log.append(str([a.get("value") for a in what["args"]]))
        elif name == "Log.entryAdded" and what["entry"]["level"] in ("error", "warning"):
            self.log.append(what["entry"]["text"])

    def size(self, width: int, height: int, *, phone: bool = False, density: float = 1.0) -> None:
        """Set the window, px, and the pixels of the screen to one of these.

        A page at a zoom of 200 % has half the window's pixels each way, and a density of 2.
        """
        self._window = width, height
        self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=density,
            mobile=phone,
        )

    def media(self, **features: str) -> None:
        """Set media features, such as ``prefers_color_scheme="dark"``."""
        listed = [{"name": k.replace("_", "-"), "value": v} for k, v in features.items()]
        self.call("Emulation.setEmulatedMedia", features=listed)

    def scripts(self, on: bool) -> None:
        """Let the page run scripts, or not."""
        self._alive = on
        self.call("Emulation.setScriptExecutionDisabled", value=not on)

    def open(self, file: Path, *, drawn: bool = True) -> None:
        """Open a file; wait until its view has been drawn, if it has one."""
        self.log.clear()
        self.requests.clear()
        self.call("Page.navigate", url=file.as_uri())
        self.until("document.readyState === 'complete'")
        if drawn:
            self.until("document.documentElement.dataset.drawn === 'yes'")
            # what was drawn is on the screen two frames later: a busy machine is behind by that
            frame = "new Promise((done) => requestAnimationFrame(() => done(true)))"
            self.run(frame)
            self.run(frame)

    def run(self, code: str) -> Any:
        """Return the value of an expression in the page; a promise is waited for."""
        answer = self.call(
            "Runtime.evaluate", expression=code, returnByValue=True, awaitPromise=True
        )
        if "exceptionDetails" in answer:
            raise RuntimeError(json.dumps(answer["exceptionDetails"])[:600])
        return answer["result"].get("value")

    def until(self, condition: str, rounds: int = 1200) -> None:
        """Wait until an expression is true: so many looks, a frame apart."""
        import time

        for _ in range(rounds):
            if self.run(condition):
                return
            time.sleep(0.05)
        raise AssertionError(f"never true: {condition}; log: {self.log}")

    def settle(self) -> None:
        """Let two frames pass, so that what was asked for is drawn."""
        if not self._alive:  # a page without scripts calls nobody back, and changes nothing
            return
        self.run("new Promise(d => requestAnimationFrame(() => requestAnimationFrame(d)))")

    def key(self, name: str) -> None:
        """Press and release a key on what has the focus."""
        text = {"text": name} if len(name) == 1 else {}
        codes = {
            "Tab": 9,
            "Enter": 13,
            "ArrowLeft": 37,
            "ArrowUp": 38,
            "ArrowRight": 39,
            "ArrowDown": 40,
        }
        code = codes.get(name, 0)
        for kind in ("keyDown", "keyUp"):
            self.call(
                "Input.dispatchKeyEvent",
                type=kind,
                key=name,
                windowsVirtualKeyCode=code,
                **(text if kind == "keyDown" else {}),
            )

    def mouse(self, kind: str, x: float, y: float, buttons: int = 0) -> None:
        """Move, press or release: ``mouseMoved``, ``mousePressed``, ``mouseReleased``."""
        button = "left" if buttons or kind != "mouseMoved" else "none"
        self.call(
            "Input.dispatchMouseEvent",
            type=kind,
            x=x,
            y=y,
            buttons=buttons,
            button=button,
            clickCount=1,
        )

    def png(self, *, whole: bool = False, of: str | None = None) -> bytes:
        """Return a picture: of the window, the whole page, or the element a selector finds."""
        clip, beyond = {}, whole
        if of is not None:
            box = self.run(
                f"(() => {{ const e = document.querySelector({of!r}); e.scrollIntoView({{block: "
                "'center'}); const r = e.getBoundingClientRect(); return [r.x + scrollX, r.y + "
                "scrollY, r.width, r.height]; })()"
            )
            clip = {"clip": dict(zip(("x", "y", "width", "height"), box, strict=True), scale=1)}
            # beyond the window the browser draws the whole page anew, in half as long again
            beyond = box[2] > self._window[0] or box[3] > self._window[1]
        if whole:
            tall = self.run("document.documentElement.scrollHeight")
            wide = self.run("innerWidth")
            clip = {"clip": {"x": 0, "y": 0, "width": wide, "height": tall, "scale": 1}}
        self.settle()
        answer = self.call(
            "Page.captureScreenshot",
            format="png",
            captureBeyondViewport=beyond,
            **clip,
        )
        return base64.b64decode(answer["data"])

    def pixels(self, of: str) -> np.ndarray[Any, Any]:
        """Return an element as ``(height, width, 3) int``."""
        from PIL import Image

        image = Image.open(io.BytesIO(self.png(of=of))).convert("RGB")
        return np.asarray(image).astype(int)

    def pdf(self) -> bytes:
        """Return the page as printed."""
        answer = self.call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)
        return base64.b64decode(answer["data"])

    def close(self) -> None:
        """Close the tab."""
        target = self.call("Target.getTargetInfo")["targetInfo"]["targetId"]
        self._session = None
        self.call("Target.closeTarget", targetId=target)
        self._socket.close()
