#!/usr/bin/python3
"""`steadyfire serve` keeps to its folder and its limits, whatever is sent to it, and goes on answering.

By raw sockets, so that nothing is mended on the way. After each malformed request the page must still come.
"""

import gzip
import json
import os
import pathlib
import random
import re
import select
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ["STEADYFIRE"]
HOUSE = 'format = 1\ntitle = "A house"\n'
failures = []


def ask(holds, what):
    if not holds:
        failures.append(what)


class Server:
    def __init__(self, what, *options, address="127.0.0.1"):
        self.process = subprocess.Popen([PROGRAM, "serve", str(what), *options], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.line = self.process.stdout.readline()
        found = re.search(r"http://(.+):(\d+)/", self.line)
        if not found:
            sys.exit(f"serve names no address: {self.line}{self.process.stderr.read()}")
        self.host, self.port, self.address = found[1], int(found[2]), address

    def end(self, by=signal.SIGINT):
        self.process.send_signal(by)
        try:
            code = self.process.wait(30)
        except subprocess.TimeoutExpired:
            self.process.kill()
            code = "none within 30 s"
        self.said = self.process.stderr.read()
        return code

    def connect(self):
        return socket.create_connection((self.address, self.port), timeout=30)

    def raw(self, data):
        """What is answered to these bytes, until the server closes: (status, headers, body)."""
        with self.connect() as s:
            try:
                s.sendall(data)
            except OSError:
                pass  # refused before all was sent
            return split(hear(s))

    def call(self, method, path, body=None, **headers):
        if body is not None and not isinstance(body, bytes):
            body = json.dumps(body).encode()
        lines = {"Host": f"127.0.0.1:{self.port}"}
        if body is not None:
            lines |= {"Content-Type": "application/json", "Content-Length": len(body)}
        lines |= {k.replace("_", "-"): v for k, v in headers.items()}
        head = f"{method} {path} HTTP/1.1\r\n" + "".join(f"{k}: {v}\r\n" for k, v in lines.items() if v is not None) + "\r\n"
        return self.raw(head.encode() + (body or b""))


def hear(s, enough=None):
    data = b""
    while enough is None or enough not in data:
        try:
            some = s.recv(65536)
        except OSError:
            break
        if not some:
            break
        data += some
    return data


def split(data):
    head, _, body = data.partition(b"\r\n\r\n")
    first, *rest = head.decode("latin-1").split("\r\n")
    headers = dict(line.split(": ", 1) for line in rest if ": " in line)
    if headers.get("Content-Encoding") == "gzip":
        body = gzip.decompress(body)
    return int(first.split()[1]) if first else 0, headers, body


def is_refused(answer, status, what):
    told, headers, body = answer
    try:
        words = json.loads(body)
    except ValueError:
        words = {}
    ask(told in (status if isinstance(status, tuple) else (status,)), f"{what}: {told}, not {status}: {body[:200]}")
    ask(bool(words.get("error")) and "hint" in words and headers.get("Content-Type") == "application/json", f"{what}: no words: {body[:200]}")
    ask(b"root:" not in body and b"kept secret" not in body, f"{what}: reveals {body[:200]}")


def check_page(server):
    status, headers, body = server.call("GET", "/")
    ask(status == 200 and b"<!doctype html>" in body, f"/: {status}")
    ask(headers["Content-Type"].startswith("text/html") and headers["X-Content-Type-Options"] == "nosniff", f"/: {headers}")
    ask("default-src 'none'" in headers["Content-Security-Policy"] and "http" not in headers["Content-Security-Policy"], f"/: {headers}")
    ask("unsafe-inline" not in headers["Content-Security-Policy"].split("style-src")[0], "scripts in the page's text would be run")
    for path, kind in ("/page.js", "text/javascript"), ("/page.css", "text/css"):
        status, headers, plain = server.call("GET", path)
        ask(status == 200 and headers["Content-Type"].startswith(kind) and "Content-Encoding" not in headers, f"{path}: {status} {headers}")
        _, packed_headers, packed = server.call("GET", path, Accept_Encoding="gzip, deflate, br")
        ask(packed_headers.get("Content-Encoding") == "gzip" and packed == plain, f"{path} packed is another")
        ask(server.call("GET", path, If_None_Match=headers["ETag"])[0] == 304, f"{path} is sent again though it is known")
        status, headers, part = server.call("GET", path, Range="bytes=3-99999999999,0-,0-")
        ask(status == 200 and part == plain, f"{path} by ranges: {status}, {len(part)} bytes")
        status, headers, nothing = server.call("HEAD", path)
        ask(status == 200 and nothing == b"" and int(headers["Content-Length"]) == len(plain), f"HEAD {path}: {status} {headers}")


def check_malformed(server, folder):
    host = f"Host: 127.0.0.1:{server.port}\r\n"
    json_head = f"POST /ask/describe HTTP/1.1\r\n{host}Content-Type: application/json\r\n"
    for what, data, status in [
        ("no HTTP", b"hello\r\n\r\n", 400),
        ("no method that is known", f"BREW / HTTP/1.1\r\n{host}\r\n".encode(), 400),
        ("another version", f"GET / HTTP/9\r\n{host}\r\n".encode(), 400),
        ("bytes", bytes(range(256)) + b"\r\n\r\n", 400),
        ("a long address", f"GET /{'a' * 3000} HTTP/1.1\r\n{host}\r\n".encode(), 414),
        ("a longer address", f"GET /{'a' * 20000} HTTP/1.1\r\n{host}\r\n".encode(), (400, 414)),
        ("a long header", f"GET / HTTP/1.1\r\n{host}X: {'a' * 20000}\r\n\r\n".encode(), 400),
        ("a zero byte in the address", f"GET /files/%00.toml HTTP/1.1\r\n{host}\r\n".encode(), 400),
        ("a line's end in the address", f"GET /files/a%0d%0ab.toml HTTP/1.1\r\n{host}\r\n".encode(), 400),
        ("a range that is none", f"GET / HTTP/1.1\r\n{host}Range: bytes=9-1-2\r\n\r\n".encode(), 416),
        ("no length", f"{json_head}\r\n{{}}".encode(), 411),
        ("a length that is none", f"{json_head}Content-Length: many\r\n\r\n{{}}".encode(), 400),
        ("a chunk that is none", f"{json_head}Transfer-Encoding: chunked\r\n\r\nzz\r\n{{}}\r\n".encode(), 400),
        ("no JSON", f"{json_head}Content-Length: 5\r\n\r\n{{\"a\":".encode(), 400),
        ("nothing", f"{json_head}Content-Length: 0\r\n\r\n".encode(), 400),
        ("no UTF-8", json_head.encode() + b"Content-Length: 4\r\n\r\n\"\xff\xfe\"", 400),
        ("a list", f"{json_head}Content-Length: 2\r\n\r\n[]".encode(), 400),
        ("a packed body", f"{json_head}Content-Encoding: gzip\r\nContent-Length: 2\r\n\r\n{{}}".encode(), 415),
    ]:
        is_refused(server.raw(data), status, what)
        ask(server.call("GET", "/")[0] == 200, f"after {what} the page does not come")
    deep = b"[" * 1_000_000
    is_refused(server.call("POST", "/ask/describe", deep), 400, "a million brackets")
    is_refused(server.call("POST", "/ask/describe", b"{}" + b" " * 6_000_000), 413, "a huge body")
    many = f"{json_head}Transfer-Encoding: chunked\r\n\r\n".encode() + (b"10000\r\n" + b" " * 0x10000 + b"\r\n") * 200 + b"0\r\n\r\n"
    ask(server.raw(many)[0] in (0, 413), "a huge body in chunks")  # the server may close before all is sent
    for method, path in [("DELETE", "/files/house.toml"), ("PATCH", "/files/house.toml"), ("OPTIONS", "/ask/describe"), ("PUT", "/ask/describe"),
                         ("GET", "/ask/describe"), ("POST", "/files/house.toml"), ("PUT", "/shipped/two_loops.toml"), ("TRACE", "/")]:
        answer = server.call(method, path, {} if method in ("PUT", "POST", "PATCH", "DELETE") else None)
        is_refused(answer, 405, f"{method} {path}")
        ask("Allow" in answer[1], f"{method} {path}: does not tell what is allowed")
    is_refused(server.call("POST", "/ask/nothing", {}), 404, "an unknown ask")
    is_refused(server.call("GET", "/nothing"), 404, "an unknown path")
    is_refused(server.call("POST", "/ask/describe", b"{}", Content_Type="text/plain"), 415, "a form as text")
    is_refused(server.call("POST", "/ask/describe", b"a=b", Content_Type="application/x-www-form-urlencoded"), 415, "a form")
    is_refused(server.call("PUT", "/files/new.toml", b"--x", Content_Type="multipart/form-data; boundary=x", If_None_Match="*"), 415, "parts")
    # What a refused request holds is not taken for the next: a strange page's form could write so.
    hidden = json.dumps({"text": "stolen"}).encode()
    inner = (f"PUT /files/stolen.toml HTTP/1.1\r\n{host}Content-Type: application/json\r\nIf-None-Match: *\r\n"
             f"Content-Length: {len(hidden)}\r\n\r\n").encode() + hidden
    for kind in "text/plain", "multipart/form-data; boundary=x", "application/json":
        server.call("POST", "/ask/describe", inner, Content_Type=kind, Connection="keep-alive")
        server.call("GET", "/", inner, Content_Type=kind, Connection="keep-alive")
    time.sleep(0.2)
    ask(not (folder / "stolen.toml").exists(), "a request within a refused one is obeyed")
    ask(server.call("GET", "/")[0] == 200, "after all that the page does not come")


def check_mutated(server):
    """Requests with random slips, the same ones each time: each is answered or cut off, and the page still comes."""
    host = f"Host: 127.0.0.1:{server.port}\r\n"
    sound = [
        f"GET / HTTP/1.1\r\n{host}Accept-Encoding: gzip\r\nRange: bytes=0-5,7-\r\n\r\n",
        f'GET /files/house.toml HTTP/1.1\r\n{host}If-None-Match: "x"\r\n\r\n',
        f'PUT /files/house.toml HTTP/1.1\r\n{host}Content-Type: application/json\r\nIf-Match: "a"\r\nContent-Length: 13\r\n\r\n{{"text": "ab"}}',
        f'POST /ask/look HTTP/1.1\r\n{host}Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n5\r\n{{"a":\r\n2\r\n1}}\r\n0\r\n\r\n',
        f"POST /ask/look HTTP/1.1\r\n{host}Expect: 100-continue\r\nContent-Type: multipart/form-data; boundary=x\r\nContent-Length: 9\r\n\r\n--x\r\n\r\n--",
    ]
    slips = [b"\r\n", b"%00", b"%2e%2e%2f", b"\xff", b":", b" ", b"9" * 22, b"-1", b'"', b"bytes=", b"\0", b"[" * 100, b"a" * 9000, host.encode()]
    dice = random.Random(5)
    for _ in range(3000):
        data = bytearray(dice.choice(sound).encode())
        for _ in range(dice.randint(1, 6)):
            at, what = dice.randrange(len(data) + 1), dice.randrange(4)
            if what == 0:
                data[at % len(data)] = dice.randrange(256)
            elif what == 1:
                data[at:at] = dice.choice(slips)
            elif what == 2 and len(data) > 30:
                del data[at:at + dice.randint(1, 20)]
            else:
                data += data[at:]
        with server.connect() as s:
            try:
                s.sendall(bytes(data))
                s.shutdown(socket.SHUT_WR)
            except OSError:
                pass
            answer = hear(s)
            ask(answer == b"" or answer.startswith(b"HTTP/1.1 "), f"{bytes(data)} is answered by {answer[:100]}")
    ask(server.call("GET", "/")[0] == 200, "after random slips the page does not come")


def check_origin(server):
    port = server.port
    for host in "evil.example", f"evil.example:{port}", "127.0.0.1", f"127.0.0.1:{port + 1}", f"localhost.evil.example:{port}", "", None:
        for path in "/", "/files", "/files/house.toml":
            is_refused(server.call("GET", path, Host=host), 403, f"Host {host} at {path}")
        is_refused(server.call("POST", "/ask/describe", {}, Host=host), 403, f"Host {host}")
    is_refused(server.raw(f"GET / HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nHost: evil.example\r\n\r\n".encode()), 403, "two hosts")
    for host in f"localhost:{port}", f"[::1]:{port}", f"127.0.0.1:{port}":
        ask(server.call("GET", "/", Host=host)[0] == 200, f"Host {host} is refused")
    for origin in "http://evil.example", "null", f"http://localhost:{port}", f"https://127.0.0.1:{port}", f"http://127.0.0.1:{port + 1}":
        is_refused(server.call("PUT", "/files/new.toml", {"text": HOUSE}, Origin=origin, If_None_Match="*"), 403, f"Origin {origin}")
        is_refused(server.call("GET", "/files", Origin=origin), 403, f"Origin {origin}")
    ask(server.call("GET", "/files", Origin=f"http://127.0.0.1:{port}")[0] == 200, "its own origin is refused")


def check_paths(server, folder):
    outside = folder.parent / "secret.toml"
    outside.write_text(kept := HOUSE + "# kept secret")
    (folder / "link.toml").symlink_to(outside)
    (folder / "way").symlink_to(folder.parent)
    (folder / "dangling.toml").symlink_to(folder.parent / "made.toml")
    for name in ("../secret.toml", "%2e%2e/secret.toml", "..%2fsecret.toml", "%2e%2e%2fsecret.toml", "..%5csecret.toml", "%252e%252e/secret.toml",
                 "%c0%ae%c0%ae/secret.toml", "x/../../secret.toml", f"/{outside}", f"%2f{outside}", "link.toml", "way/secret.toml", "dangling.toml",
                 "../../../../../../etc/passwd", "/etc/passwd", ".", "", "house.txt", ".hidden.toml", "%u002e%u002e/secret.toml"):
        is_refused(server.call("GET", f"/files/{name}"), (400, 403, 404), f"read {name}")
        is_refused(server.call("PUT", f"/files/{name}", {"text": "taken"}, If_None_Match="*"), (400, 403, 404), f"write {name}")
        is_refused(server.call("GET", f"/shipped/{name}"), (400, 404), f"shipped {name}")
    ask(outside.read_text() == kept and not (folder.parent / "made.toml").exists(), "something outside is written")
    ask({p.name for p in folder.iterdir()} == {"house.toml", "sub", "link.toml", "way", "dangling.toml"}, f"left: {list(folder.iterdir())}")
    listed = [f["name"] for f in json.loads(server.call("GET", "/files")[2]) if not f["shipped"]]
    ask(listed == ["house.toml", "sub/barn.toml"], f"listed: {listed}")


def check_files(server, folder):
    entries = json.loads(server.call("GET", "/files", Accept_Encoding="gzip")[2])
    shipped = {f["name"] for f in entries if f["shipped"]}
    ask(shipped == {p.name for p in (ROOT / "scenarios").glob("*.toml")}, f"shipped: {shipped}")
    for name in shipped:
        status, _, body = server.call("GET", f"/shipped/{name}")
        ask(status == 200 and json.loads(body)["text"] == (ROOT / "scenarios" / name).read_text(), f"shipped {name}: {status}")
    status, headers, body = server.call("GET", "/files/house.toml")
    read = json.loads(body)
    ask(status == 200 and read["text"] == HOUSE and headers["ETag"] == f'"{read["stamp"]}"', f"read: {status} {headers} {body}")
    ask(server.call("GET", "/files/house.toml", If_None_Match=headers["ETag"])[0] == 304, "an unchanged file is sent again")
    is_refused(server.call("PUT", "/files/house.toml", {"text": "lost"}), 428, "a save that knows nothing")
    is_refused(server.call("PUT", "/files/house.toml", {"text": "lost"}, If_Match="*"), 400, "a save of any state")
    is_refused(server.call("PUT", "/files/house.toml", {"words": 1}, If_None_Match="*"), 400, "a save of nothing")
    # Two pages have read the same; the second to save is told of the first.
    status, headers, body = server.call("PUT", "/files/house.toml", {"text": HOUSE + "# first\n"}, If_Match=f'"{read["stamp"]}"')
    first = json.loads(body)["stamp"]
    ask(status == 200 and headers["ETag"] == f'"{first}"', f"first: {status}")
    status, _, body = server.call("PUT", "/files/house.toml", {"text": HOUSE + "# second\n"}, If_Match=f'"{read["stamp"]}"')
    ask(status == 412 and json.loads(body) == {"name": "house.toml", "file": "house.toml", "text": HOUSE + "# first\n", "stamp": first},
        f"second: {status} {body}")
    ask((folder / "house.toml").read_text() == HOUSE + "# first\n", "the first save is lost")
    # A text editor writes meanwhile.
    (folder / "house.toml").write_text(HOUSE + "# by hand\n")
    status, _, body = server.call("PUT", "/files/house.toml", {"text": "lost"}, If_Match=f'"{first}"')
    ask(status == 412 and "by hand" in json.loads(body)["text"], f"beside an editor: {status}")
    ask(server.call("PUT", "/files/house.toml", {"text": "lost"}, If_None_Match="*")[0] == 412, "a new file is made over another")
    ask(server.call("PUT", "/files/house.toml", {"text": HOUSE}, If_Match=f'"{json.loads(body)["stamp"]}"')[0] == 200, "the last save")
    ask(server.call("PUT", "/files/sub/new%20house.toml", {"text": HOUSE + "# ü"}, If_None_Match="*")[0] == 200, "a new file")
    ask((folder / "sub/new house.toml").read_text() == HOUSE + "# ü", "the new file has another text")
    (folder / "sub/new house.toml").unlink()
    # A shipped scenario saved here takes its weather along, and runs on the command line too.
    year = (ROOT / "scenarios/cold_coast_year.toml").read_text()
    status, _, body = server.call("PUT", "/files/sub/year.toml", {"text": year}, If_None_Match="*")
    ask(status == 200 and json.loads(body)["also"] == ["sub/weather/invented_cold_coast.csv"], f"a shipped scenario: {status} {body}")
    checked = subprocess.run([PROGRAM, "flows", str(folder / "sub/year.toml")], capture_output=True, text=True)
    ask(checked.returncode == 0, f"saved from the program: {checked.stderr}")
    shutil.rmtree(folder / "sub/weather")
    status, _, body = server.call("PUT", "/files/sub/year.toml", {"text": year}, If_None_Match="*")
    ask(status == 412 and not (folder / "sub/weather").exists(), f"a save that is refused adds its weather: {status}")
    (folder / "sub/year.toml").unlink()
    status, _, body = server.call("PUT", "/files/sub/new%20house.toml", {"text": HOUSE}, If_Match='"1"')
    ask(status == 412 and json.loads(body)["stamp"] == "", f"a file that was taken away: {status} {body}")


def check_whole_writes(server, folder):
    """Whoever reads while it is saved finds one whole text or the other; a save cut off by the network changes nothing."""
    texts = [HOUSE + "# " + c * 2_000_000 + "\n" for c in "ab"]
    stamp = json.loads(server.call("GET", "/files/house.toml")[2])["stamp"]
    for i in range(6):
        body = json.dumps({"text": texts[i % 2]}).encode()
        with server.connect() as s:
            s.sendall(f"PUT /files/house.toml HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nContent-Type: application/json\r\n"
                      f"If-Match: \"{stamp}\"\r\nContent-Length: {len(body)}\r\n\r\n".encode() + body)
            while not select.select([s], [], [], 0)[0]:
                ask((folder / "house.toml").read_text() in texts + [HOUSE], "a reader finds half a file")
            status, _, answer = split(hear(s))
        ask(status == 200, f"save {i}: {status}")
        stamp = json.loads(answer)["stamp"]
    with server.connect() as s:
        s.sendall(f"PUT /files/house.toml HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nContent-Type: application/json\r\n"
                  f"If-Match: \"{stamp}\"\r\nContent-Length: 100000\r\n\r\n".encode() + b'{"text": "cut')
    time.sleep(0.2)
    ask((folder / "house.toml").read_text() == texts[1], "a save that was cut off is written")
    server.call("PUT", "/files/house.toml", {"text": HOUSE}, If_Match=f'"{stamp}"')
    ask({p.name for p in folder.iterdir()} == {"house.toml", "sub"}, f"left beside: {list(folder.iterdir())}")


def check_idle(server):
    idle = [server.connect() for _ in range(70)]
    half = [server.connect() for _ in range(20)]
    for s in half:
        s.sendall(b"GET / HTTP/1.1\r\nHost:")
    begin = time.monotonic()
    ask(server.call("GET", "/")[0] == 200, "beside idle connections the page does not come")
    ask(time.monotonic() - begin < 5, f"beside idle connections the page comes after {time.monotonic() - begin:.1f} s")
    for s in idle + half:
        s.close()


def look(server, text, file="house.toml"):
    """The answer to what the page asks at each edit: (status, faults)."""
    status, _, body = server.call("POST", "/ask/look", {"text": text, "file": file, "units": "us"})
    return status, json.loads(body).get("faults") if status == 200 else body


def check_floods(server, folder):
    """Texts that are made to break it: depth, and any number of faults."""
    deep = "format = 1\n" + ".".join(["a"] * 50_000) + " = 1\n"
    for ask_name in "look", "edit", "run":
        status, _, body = server.call("POST", f"/ask/{ask_name}", {"text": deep, "file": "deep.toml", "units": "us", "edits": []})
        ask(status == 200 and (b"E110" in body or b"nested" in body), f"{ask_name} of a deep text: {status} {body[:200]}")
    (folder / "deep.toml").write_text(deep)
    ask(server.call("GET", "/files")[0] == 200, "a deep file in the folder: no list")
    ask(server.call("GET", "/files/deep.toml")[0] == 200, "a deep file in the folder cannot be read")
    (folder / "deep.toml").unlink()
    for text in "[[zone]]\n" * 100_000, "site = { " + ", ".join(f"e{i} = 1" for i in range(100_000)) + " }":
        began = time.monotonic()
        status, faults = look(server, "format = 1\n" + text)
        ask(status == 200 and len(faults) == 51 and faults[-1]["message"].endswith(" more errors"), f"a flood: {status} {str(faults)[-300:]}")
        ask(faults[0].get("at") or faults[1].get("at"), f"the faults of a flood have no place: {faults[:2]}")
        ask(time.monotonic() - began < 60, f"a flood takes {time.monotonic() - began} s")


def check_words_of_others(server, folder):
    """What is no table is not read as one: no word of it gets into an answer."""
    (folder / ".git").mkdir()
    secrets = [".env", "notes.txt", "key.pem", ".git/rows.csv", "other.toml", "weather.csv"]
    for name in secrets[:-1]:
        (folder / name).write_text("password,hunter2\n1,hunter2\n")
    (folder / "weather.csv").symlink_to(".env")
    for name in secrets:
        for kind in 'kind = "TMY3 file"', 'kind = "hourly file", time_column = "t", temperature_column = "v", unit = "degF"':
            text = f'format = 1\n[site]\nweather = {{ {kind}, file = "{name}" }}\n[boiler]\n[[zone]]\nname = "a"\n'
            status, _, body = server.call("POST", "/ask/look", {"text": text, "file": "house.toml", "units": "us"})
            ask(status == 200 and b"hunter2" not in body and b"password" not in body, f"words of {name}: {status} {body[:300]}")
    for name in secrets:
        (folder / name).unlink()
    (folder / ".git").rmdir()


def check_many_looks(server):
    """Looks wait in a short line as runs do; who finds it full is told so at once."""
    text = (ROOT / "scenarios/twelve_zones.toml").read_text()
    body = json.dumps({"text": text, "file": "house.toml", "units": "us"}).encode()
    head = (f"POST /ask/look HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nContent-Type: application/json\r\n"
            f"Content-Length: {len(body)}\r\n\r\n").encode()
    open_now = [server.connect() for _ in range(60)]
    for s in open_now:
        s.sendall(head + body)
    told = [split(hear(s))[0] for s in open_now]
    for s in open_now:
        s.close()
    ask(set(told) == {200, 503} and told.count(200) >= 32, f"sixty looks at once: {told}")


def check_calls(folder):
    def call(*arguments):
        return subprocess.run([PROGRAM, "serve", *arguments], cwd=folder, capture_output=True, text=True, timeout=60)

    for arguments, words in [
        (["nowhere"], "nowhere: error[E101]: no such file or folder"),
        ([PROGRAM], "error[E101]: not a scenario file"),
        ([".", "--address", "example"], "--address example: error[E121]"),
        ([".", "--address", "192.0.2.1"], "--address 192.0.2.1: error[E121]"),  # RFC 5737: nobody's
        ([".", "--port", "70000"], "--port: Value 70000 not in range"),
        ([".", "--jobs", "0"], "--jobs: Value 0 not in range"),
        (["a", "b"], "unexpected word 'b'"),
        ([".", "--prot", "1"], "did you mean '--port'?"),
    ]:
        run = call(*arguments)
        ask(run.returncode == 2 and words in run.stderr and "expected" in run.stderr, f"serve {arguments}: {run.returncode} {run.stderr}")
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        taken = other.getsockname()[1]
        run = call(".", "--port", str(taken))
        ask(run.returncode == 2 and f"--port {taken}: error[E122]: another program uses this port" in run.stderr, f"taken port: {run.stderr}")
    # Two programs never share a port.
    one = Server(folder, "--port", "0")
    run = call(".", "--port", str(one.port))
    ask(run.returncode == 2 and "E122" in run.stderr, f"the port of another serve: {run.stderr}")
    ask(one.end(signal.SIGTERM) == 0, "ended by SIGTERM with another code")
    # Without --port, a second one finds another.
    pair = [Server(folder), Server(folder)]
    ask(pair[0].port != pair[1].port, "two share a port")
    ask([s.end() for s in pair] == [0, 0] and pair[0].said == "", f"ends with {pair[0].said}")
    open_to_all = Server(folder, "--address", "0.0.0.0", "--port", "0")
    ask(open_to_all.call("GET", "/")[0] == 200, "0.0.0.0 does not answer")
    is_refused(open_to_all.call("GET", "/", Host=f"evil.example:{open_to_all.port}"), 403, "a strange host at 0.0.0.0")
    ask(open_to_all.end() == 0 and "warning: anyone who can reach" in open_to_all.said and str(folder) in open_to_all.said,
        f"no warning: {open_to_all.said}")
    alone = Server(folder / "house.toml", "--port", "0")
    first, *rest = json.loads(alone.call("GET", "/files")[2])
    ask(first["name"] == "house.toml" and first["opened"] and not any(f["opened"] for f in rest), f"a file: {first}")
    ask("sub/barn.toml" not in [f["name"] for f in rest], "a file opens the folders below")
    ask(alone.end() == 0, "a file: ends with another code")


with tempfile.TemporaryDirectory() as name:
    place = pathlib.Path(name).resolve() / "jobs"
    (place / "sub").mkdir(parents=True)
    (place / "house.toml").write_text(HOUSE)
    (place / "sub" / "barn.toml").write_text('format = 1\ntitle = "A barn"\n')
    served = Server(place, "--port", "0")
    check_page(served)
    check_files(served, place)
    check_whole_writes(served, place)
    check_origin(served)
    check_malformed(served, place)
    check_mutated(served)
    check_idle(served)
    check_paths(served, place)
    check_words_of_others(served, place)
    check_floods(served, place)
    check_many_looks(served)
    ask(served.process.poll() is None, "the server has ended")
    ask(served.end() == 0, "Ctrl-C: another exit code")
    ask(served.said == "", f"it complains: {served.said}")
    check_calls(place)

print("\n".join(failures) or "serve holds")
sys.exit(1 if failures else 0)
