"""Firefox from Debian's package, driven by its own remote protocol (Marionette: JSON over a socket)."""

import json
import shutil
import socket
import subprocess
import time
from pathlib import Path
from typing import Any

START = 60.0
"""Seconds after which a browser that has not started never will."""

_SETTINGS = {
    "app.update.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
}


_AS_A_PERSON_HAS_IT = {"remote.prefs.recommended": False, "browser.startup.page": 3}
"""Nothing is set for tests, and the last session is taken up at the start."""


class Firefox:
    """One browser with one tab, and as many more as are opened. As a `persons` browser it keeps what browsers keep, and
    takes up the session that it ended."""

    name = "firefox"

    def __init__(self, profile: Path, *, persons: bool = False) -> None:
        profile.mkdir(parents=True, exist_ok=True)
        port = _free_port()
        settings = {**_SETTINGS, **(_AS_A_PERSON_HAS_IT if persons else {}), "marionette.port": port}
        lines = [f"user_pref({json.dumps(name)}, {json.dumps(value)});" for name, value in settings.items()]
        (profile / "user.js").write_text("\n".join(lines), encoding="utf-8")
        program = str(shutil.which("firefox-esr") or shutil.which("firefox"))
        command = [program, "--headless", "--marionette", "--remote-allow-system-access", "--no-remote"]
        command += ["--profile", str(profile)]
        self._process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self._socket = self._connected(port)
        self._incoming = self._socket.makefile("rb")
        self._count = 0
        self._read()
        self._call("WebDriver:NewSession", acceptInsecureCerts=True, timeouts={"script": 20000})

    def _connected(self, port: int) -> socket.socket:
        until = time.monotonic() + START
        while True:
            try:
                return socket.create_connection(("127.0.0.1", port), timeout=START)
            except OSError:
                assert self._process.poll() is None, "Firefox did not start"
                assert time.monotonic() < until, "Firefox does not answer"

    def _read(self) -> Any:
        length = b""
        while (digit := self._incoming.read(1)) != b":":
            length += digit
        return json.loads(self._incoming.read(int(length)))

    def _call(self, command: str, **values: Any) -> Any:
        self._count += 1
        message = json.dumps([0, self._count, command, values]).encode()
        self._socket.sendall(f"{len(message)}:".encode() + message)
        _, _, error, result = self._read()
        assert error is None, error
        return result

    def get(self, address: str) -> None:
        self._call("WebDriver:Navigate", url=address)

    def back(self) -> None:
        self._call("WebDriver:Back")

    def reload(self) -> None:
        self._call("WebDriver:Refresh")

    def run(self, script: str, *values: Any) -> Any:
        """The value of `return ...` in the page."""
        return self._call("WebDriver:ExecuteScript", script=script, args=list(values))["value"]

    def wait(self, script: str, *values: Any) -> Any:
        """What the page hands to its last argument."""
        return self._call("WebDriver:ExecuteAsyncScript", script=script, args=list(values))["value"]

    def size(self, width: int, height: int) -> None:
        self._call("WebDriver:SetWindowRect", width=width, height=height)

    def complaints(self) -> list[str]:
        """Nothing is asked of this browser: what it refuses to load, a page hears as an event."""
        return []

    def presses(self, keys: str) -> None:
        """Somebody types, where the focus is."""
        pressed = [{"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]
        self._call("WebDriver:PerformActions", actions=[{"type": "key", "id": "keyboard", "actions": pressed}])

    def clicks_on(self, selector: str) -> None:
        """A click as the mouse makes it."""
        found = self._call("WebDriver:FindElement", using="css selector", value=selector)["value"]
        self._call("WebDriver:ElementClick", id=next(iter(found.values())))

    def swipes(self, selector: str, across: int) -> None:
        """A finger goes `across` pixels to the right over an element, which is brought into sight."""
        self.run(f"document.querySelector({selector!r}).scrollIntoView({{ block: 'center' }})")
        over = self._call("WebDriver:FindElement", using="css selector", value=selector)["value"]
        actions: list[dict[str, Any]] = [{"type": "pointerMove", "x": 0, "y": 0, "origin": over}]
        actions += [{"type": "pointerDown", "button": 0}]
        actions += [
            {"type": "pointerMove", "x": x, "y": 0, "origin": over, "duration": 50} for x in (across // 2, across)
        ]
        finger = {"type": "pointer", "id": "finger", "parameters": {"pointerType": "touch"}}
        self._call(
            "WebDriver:PerformActions", actions=[finger | {"actions": [*actions, {"type": "pointerUp", "button": 0}]}]
        )

    def enters_the_frame(self) -> None:
        """Scripts run in the page's first frame from now on."""
        self._call("WebDriver:SwitchToFrame", id=0)

    def opens_a_tab(self) -> None:
        handle = self._call("WebDriver:NewWindow", type="tab")["handle"]
        self._call("WebDriver:SwitchToWindow", handle=handle)

    def closes_the_tab(self) -> None:
        left = self._call("WebDriver:CloseWindow")
        self._call("WebDriver:SwitchToWindow", handle=left[-1])

    def undoes_closing_the_tab(self) -> None:
        """What the menu of recently closed tabs does."""
        self._call("Marionette:SetContext", value="chrome")
        self.run(
            "const { SessionStore } = ChromeUtils.importESModule('resource:///modules/sessionstore/SessionStore.sys.mjs');"
            "SessionStore.undoCloseTab(window, 0)"
        )
        self._call("Marionette:SetContext", value="content")

    def goes_to_the_tab_at(self, address: str) -> None:
        """One of the tabs shows this address, or is just loading it; scripts run there from now on."""
        until = time.monotonic() + START
        while time.monotonic() < until:
            for tab in self._call("WebDriver:GetWindowHandles"):
                self._call("WebDriver:SwitchToWindow", handle=tab)
                if self._call("WebDriver:GetCurrentURL")["value"].startswith(address):
                    return
        raise AssertionError(f"no tab shows {address}")

    def ends(self) -> None:
        """The browser is closed as a person closes it, and everything is on the disk."""
        self._end("eAttemptQuit")

    def quit(self) -> None:
        self._end("eForceQuit")

    def _end(self, how: str) -> None:
        self._call("Marionette:Quit", flags=[how])
        self._incoming.close()
        self._socket.close()
        self._process.wait(START)


def _free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])
