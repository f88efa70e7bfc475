"""A class on a running hub: everybody logs in, runs notebook 01 and moves a control, all at once.

    python tests/benchmarks/hub.py --students 10 --password ... [--url http://127.0.0.1:8000]

Run it with the Python of the hub, on the same computer, which it then shares with the class. It
prints seconds (median and the slowest 5 %) and the memory of each student, shared pages divided.
With `--left 300` the class then goes away, and it prints when kernels and servers ended: try that
on a hub with a short AIRLAB_IDLE.
"""

import argparse
import asyncio
import json
import statistics
import time
import uuid
from pathlib import Path

import aiohttp
import psutil

NOTEBOOK = "01_balloon.ipynb"
MOVES = 20
HOLE_MOST = 8.0  # mm, the end of the slider "Hole, across", by which it is known


class Student:
    """One seat of the class: a browser's requests without the browser."""

    def __init__(self, url, name, password):
        self.url, self.name, self.password, self.took = url, name, password, {}
        self.home = f"{url}/user/{name}"
        self.slider, self.errors, self.pictures = "", [], 0

    async def __aenter__(self):
        self.web = aiohttp.ClientSession(
            cookie_jar=aiohttp.CookieJar(unsafe=True), timeout=aiohttp.ClientTimeout(300)
        )
        return self

    async def __aexit__(self, *_):
        await self.web.close()

    def _mark(self, path):
        found = [c for c in self.web.cookie_jar if c.key == "_xsrf" and c["path"] == path]
        return found[0].value if found else ""

    async def start(self):
        """Log in and wait until the own server shows its first page."""
        began = time.monotonic()
        async with self.web.get(f"{self.url}/hub/login") as page:
            page.raise_for_status()
        fields = {"username": self.name, "password": self.password, "_xsrf": self._mark("/hub/")}
        async with self.web.post(f"{self.url}/hub/login", data=fields) as page:
            assert "/hub/login" not in str(page.url), f"{self.name} was not let in"
        while True:
            async with self.web.get(f"{self.home}/lab") as page:
                if page.status == 200 and str(page.url).startswith(self.home):
                    break
            async with self.web.get(f"{self.url}/hub/spawn/{self.name}") as page:
                await page.read()
            await asyncio.sleep(0.3)
        self.took["server starts"] = [time.monotonic() - began]

    async def open(self):
        """Open the notebook: its file and a kernel."""
        began = time.monotonic()
        async with self.web.get(f"{self.home}/api/contents/{NOTEBOOK}") as page:
            cells = (await page.json())["content"]["cells"]
        self.code = ["".join(c["source"]) for c in cells if c["cell_type"] == "code"]
        asked = {
            "path": NOTEBOOK,
            "name": NOTEBOOK,
            "type": "notebook",
            "kernel": {"name": "python3"},
        }
        mark = {"X-XSRFToken": self._mark(f"/user/{self.name}/")}
        async with self.web.post(f"{self.home}/api/sessions", json=asked, headers=mark) as page:
            assert page.status == 201, await page.text()
            kernel = (await page.json())["kernel"]["id"]
        self.line = await self.web.ws_connect(
            f"{self.home}/api/kernels/{kernel}/channels", max_msg_size=0, origin=self.url
        )
        await self.ask("execute_request", {"code": "1", "silent": False})
        self.took["kernel opens"] = [time.monotonic() - began]

    async def ask(self, kind, content):
        """Send one message and read until the kernel is idle again after it; return the time."""
        began, own = time.monotonic(), uuid.uuid4().hex
        head = {
            "msg_id": own,
            "msg_type": kind,
            "session": self.name,
            "username": "",
            "version": "5.3",
        }
        await self.line.send_str(json.dumps({
            "header": head, "parent_header": {}, "metadata": {}, "content": content,
            "buffers": [], "channel": "shell",
        }))  # fmt: skip
        async for raw in self.line:
            if raw.type != aiohttp.WSMsgType.TEXT:
                continue
            got = json.loads(raw.data)
            body = got["content"]
            if got["msg_type"] == "comm_open":
                state = body["data"].get("state", {})
                if "SliderModel" in state["_model_name"] and state.get("max") == HOLE_MOST:
                    self.slider = body["comm_id"]
            self.pictures += got["msg_type"] == "comm_msg" and "<svg" in raw.data
            if got["msg_type"] == "error":
                self.errors.append(f"{body['ename']}: {body['evalue']}")
            mine = got["parent_header"].get("msg_id") == own
            if mine and got["msg_type"] == "status" and body["execution_state"] == "idle":
                return time.monotonic() - began
        raise RuntimeError(f"The line of {self.name} was cut.")

    async def run_all(self):
        """Run every cell of the notebook."""
        began = time.monotonic()
        for code in self.code:
            await self.ask("execute_request", {"code": code, "silent": False})
        self.took["run all cells"] = [time.monotonic() - began]
        assert not self.errors, f"{self.name}: {self.errors}"

    async def move(self):
        """Move the hole's slider once a second, to and fro; every move must bring a new picture."""
        await self.ask("execute_request", {"code": "BalloonPanel().skip()", "silent": False})
        self.took["one move"] = []
        for step in range(MOVES):
            told = {"method": "update", "state": {"value": 2.0 + step % 3}, "buffer_paths": []}
            before = self.pictures
            took = await self.ask("comm_msg", {"comm_id": self.slider, "data": told})
            assert self.pictures > before, f"{self.name}: the move changed nothing"
            self.took["one move"].append(took)
            await asyncio.sleep(max(0.0, 1.0 - took))


def memory():
    """Return memory [MB] of each server and each kernel under it, and of hub and proxy."""
    found = {"server": [], "kernel": [], "hub, proxy": []}
    for process in psutil.process_iter(["cmdline"]):
        line = " ".join(process.info["cmdline"] or ())
        if "bin/jupyterhub-singleuser" in line:
            found["server"].append(process.memory_full_info().pss / 1e6)
            found["kernel"] += [one.memory_full_info().pss / 1e6 for one in process.children()]
        elif "bin/jupyterhub" in line or "configurable-http-proxy" in line:
            found["hub, proxy"].append(process.memory_full_info().pss / 1e6)
    return found


async def left_alone(most):
    """Wait until no kernel and no server is left, at most so many seconds; print when each was gone."""
    began, left = time.monotonic(), ["kernel", "server"]
    while left and time.monotonic() - began < most:
        await asyncio.sleep(1.0)
        found = memory()
        for name in [one for one in left if not found[one]]:
            print(
                f"{name + 's ended':14} {time.monotonic() - began:4.0f} s after the class had gone"
            )
            left.remove(name)
    assert not left, f"After {most} s there was still a {' and a '.join(left)}."


async def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--url", default="http://127.0.0.1:8000")
    parser.add_argument("--students", type=int, default=10)
    parser.add_argument("--password", required=True)
    parser.add_argument("--left", type=int, default=0, help="seconds to wait for the end of all")
    given = parser.parse_args()
    seats = range(1, given.students + 1)
    students = [Student(given.url, f"student{seat}", given.password) for seat in seats]
    for student in students:
        await student.__aenter__()
    try:
        for act in (Student.start, Student.open, Student.run_all, Student.move):
            await asyncio.gather(*(act(student) for student in students))
        print(f"{given.students} students at once, load {Path('/proc/loadavg').read_text()[:4]}")
        for name in students[0].took:
            values = sorted(value for student in students for value in student.took[name])
            slow = values[min(len(values) - 1, int(0.95 * len(values)))]
            print(f"{name:14} median {statistics.median(values):7.3f} s   p95 {slow:7.3f} s")
        for name, values in memory().items():
            print(
                f"{name:14} {len(values):3}  median {statistics.median(values):5.0f} MB  sum {sum(values):6.0f} MB"
            )
    finally:
        for student in students:
            await student.__aexit__()
    if given.left:
        await left_alone(given.left)


if __name__ == "__main__":
    asyncio.run(main())
