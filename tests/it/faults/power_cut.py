"""What a power cut can leave of a data directory, and whether anything acknowledged is missing from it.

    power_cut.py LOG BEFORE DIRECTORY EXPECTED STATES   checks the states that the log of a server's system calls allows
    power_cut.py write DIRECTORY SYNCHRONOUS            acknowledged inserts into a table of its own, for a control

LOG is of `strace -f -y -xx -s 100000000`, BEFORE a copy of DIRECTORY as it was when tracing began and everything lasted, EXPECTED a
JSON object: for each acknowledgement the query whose one value must be true. Prints a JSON object of counts.

The disk is one that keeps what was synchronised and, of what was written since, anything: all, nothing, some of the writes, a write
torn at a sector of 512 bytes. Names last once their directory was synchronised, in the order of the calls.
"""

import hashlib
import json
import os
import random
import re
import shutil
import sqlite3
import sys
import tempfile

SECTOR = 512
CALL = re.compile(r"^(\d+) +(?:(\w+)\((.*)|<\.\.\. (\w+) resumed>(.*))$")
PLACE = re.compile(r"<((?:\\x[0-9a-f]{2})*|[^>]*)>")
QUOTED = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')
RESULT = re.compile(r"= (-?\d+)(?:<[^>]*>)?(?: E\w+.*)?$")
TRACED = {"openat", "pwrite64", "write", "writev", "sendto", "fsync", "fdatasync", "ftruncate", "rename", "renameat", "renameat2", "unlink", "unlinkat"}


def text(escaped):
    return bytes.fromhex(escaped.replace("\\x", ""))


def path(escaped):
    return text(escaped).decode() if escaped.startswith("\\x") else escaped


class Disk:
    """Names and files, what of them lasts and what is on its way."""

    def __init__(self, before):
        self.names, self.files, self.pending_names = {}, [], []
        for folder, _, found in os.walk(before):
            for name in found:
                with open(os.path.join(folder, name), "rb") as file:
                    self.files.append([file.read(), []])
                self.names[os.path.relpath(os.path.join(folder, name), before)] = len(self.files) - 1
        self.now = dict(self.names)

    def created(self, name):
        if name not in self.now:
            self.files.append([b"", []])
            self.name(("put", name, len(self.files) - 1))

    def name(self, step):
        self.pending_names.append(step)
        apply_name(self.now, step)

    def wrote(self, name, offset, data):
        if name in self.now:
            self.files[self.now[name]][1].append((offset, data))

    def size(self, name):
        return len(apply_writes(*self.files[self.now[name]]))

    def cut(self, name, length):
        if name in self.now:
            self.files[self.now[name]][1].append((length, None))

    def synced(self, name, pending):
        """What had been written to a file when its synchronising began lasts from here on."""
        file = self.files[self.now[name]]
        file[0], file[1] = apply_writes(file[0], file[1][:pending]), file[1][pending:]

    def synced_names(self, folder, pending):
        kept = []
        for index, step in enumerate(self.pending_names):
            if index < pending and os.path.dirname(step[1]) == folder:
                apply_name(self.names, step)
            else:
                kept.append(step)
        self.pending_names = kept

    def left(self, how, chance):
        """One state that a cut can leave: names with the bytes behind them."""
        names = dict(self.names)
        pending = self.pending_names
        count = {"nothing": 0, "all": len(pending)}.get(how, chance.randint(0, len(pending)))
        for step in pending[:count]:
            apply_name(names, step)
        found = {}
        for name, file in names.items():
            lasting, writes = self.files[file]
            if how == "nothing":
                writes = []
            elif how == "some":
                writes = [write for write in writes if chance.random() < 0.5]
            elif how == "torn" and writes:
                writes = writes[: chance.randint(0, len(writes) - 1) + 1]
                offset, data = writes[-1]
                if data:
                    writes[-1] = (offset, data[: SECTOR * chance.randint(0, len(data) // SECTOR)])
            found[name] = (lasting, writes)
        return found


def apply_name(names, step):
    if step[0] == "put":
        names[step[1]] = step[2]
    elif step[0] == "gone":
        names.pop(step[1], None)
    elif step[2] in names:
        names[step[1]] = names.pop(step[2])


def apply_writes(lasting, writes):
    if not writes:
        return lasting
    data = bytearray(lasting)
    for offset, what in writes:
        if what is None:
            del data[offset:]
        else:
            if len(data) < offset:
                data.extend(bytes(offset - len(data)))
            data[offset : offset + len(what)] = what
    return bytes(data)


def events(log, directory):
    """System calls in their order: each twice, when it begins and when it has ended well."""
    open_calls = {}
    with open(log) as lines:
        for line in lines:
            found = CALL.match(line)
            if not found:
                continue
            task, name, rest, resumed, tail = found.groups()
            if name in TRACED:
                call = {"name": name, "arguments": rest, "directory": directory}
                yield "begin", call
                if rest.endswith("<unfinished ...>"):
                    open_calls[task] = call
                else:
                    ended = RESULT.search(rest)
                    yield ("end" if ended and int(ended[1]) >= 0 else "failed"), call
            elif resumed and task in open_calls:
                call = open_calls.pop(task)
                ended = RESULT.search(tail)
                yield ("end" if ended and int(ended[1]) >= 0 else "failed"), call


def within(directory, place):
    return os.path.relpath(place, directory) if place.startswith(directory + "/") or place == directory else None


def run(log, before, directory, expected, wanted):
    disk, chance = Disk(before), random.Random(20261126)
    acknowledged, report = [], {"states": 0, "lost": 0, "corrupt": 0, "blobs": 0, "acknowledged": 0, "worst": 0, "faults": []}
    # Once over the log to learn how many cuts there are, then again with so many of them looked at.
    cuts = sum(1 for when, _ in events(log, directory) if when == "begin")
    share = wanted / 4 / max(cuts, 1)
    for when, call in events(log, directory):
        step(disk, when, call, acknowledged, expected)
        for _ in range(int(share + chance.random()) if when == "begin" else 0):
            for how in ("nothing", "all", "some", "torn"):
                look(disk.left(how, chance), acknowledged, expected, report, how)
    for how in ("nothing", "all", "some", "torn"):
        look(disk.left(how, chance), acknowledged, expected, report, how)
    report["acknowledged"] = len(acknowledged)
    print(json.dumps(report))


def step(disk, when, call, acknowledged, expected):
    name, arguments, directory = call["name"], call["arguments"], call["directory"]
    if name in ("fsync", "fdatasync"):
        place = within(directory, path(PLACE.search(arguments)[1]))
        if place is None:
            return
        folder = "" if place == "." else place
        is_name = place in disk.now
        if when == "begin":
            call["pending"] = len(disk.files[disk.now[place]][1]) if is_name else len(disk.pending_names)
        elif when == "end" and is_name:
            disk.synced(place, call["pending"])
        elif when == "end":
            disk.synced_names(folder, call["pending"])
    elif name in ("pwrite64", "write", "writev", "sendto") and when == "begin":
        found = PLACE.search(arguments)
        place = within(directory, path(found[1])) if found else None
        data = b"".join(text(part) for part in QUOTED.findall(arguments))
        if place is None:
            if re.match(rb"HTTP/1\.1 2|ack-", data):
                for ack in re.findall(rb"ack-\d+", data):
                    if ack.decode() in expected and ack.decode() not in acknowledged:
                        acknowledged.append(ack.decode())
        elif place in disk.now:
            offset = int(re.search(r", (\d+)\)? *(?:<unfinished|=)", arguments)[1]) if name == "pwrite64" else disk.size(place)
            disk.wrote(place, offset, data)
    elif name == "ftruncate" and when == "begin":
        place = within(directory, path(PLACE.search(arguments)[1]))
        if place is not None:
            disk.cut(place, int(re.search(r">, (\d+)", arguments)[1]))
    elif when == "end" and name.startswith(("openat", "rename", "unlink")):
        places = [within(directory, path(found)) for found in QUOTED.findall(arguments)]
        if not places or None in places:
            return
        if name == "openat" and "O_CREAT" in arguments:
            disk.created(places[0])
        elif name.startswith("rename"):
            disk.name(("move", places[1], places[0]))
        elif name.startswith("unlink"):
            disk.name(("gone", places[0]))


def look(left, acknowledged, expected, report, how):
    report["states"] += 1
    with tempfile.TemporaryDirectory(dir="/dev/shm" if os.path.isdir("/dev/shm") else None) as folder:
        for name in ("matchmark.db", "matchmark.db-wal"):
            if name in left:
                with open(os.path.join(folder, name), "wb") as file:
                    file.write(apply_writes(*left[name]))
        try:
            conn = sqlite3.connect(os.path.join(folder, "matchmark.db"))
            sound = conn.execute("PRAGMA integrity_check").fetchone()[0] == "ok" and not conn.execute("PRAGMA foreign_key_check").fetchone()
            lost = [ack for ack in acknowledged if not conn.execute(expected[ack]).fetchone()[0]]
            tables = {name for (name,) in conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
            packs = conn.execute("SELECT sha256, manifest_sha256 FROM packs").fetchall() if "packs" in tables else []
            conn.close()
        except sqlite3.DatabaseError as error:
            sound, lost, packs = False, [], []
            report["faults"].append(f"{how}: {error}")
    if not sound:
        report["corrupt"] += 1
    if lost:
        report["lost"] += 1
        report["worst"] = max(report["worst"], len(lost))
        report["faults"].append(f"{how}: lost {lost}")
    for sha256 in {sha256 for pack in packs for sha256 in pack}:
        blob = left.get(f"blobs/{sha256}")
        if blob is None or digest(*blob) != sha256:
            report["blobs"] += 1
            report["faults"].append(f"{how}: blob {sha256[:8]} is {'missing' if blob is None else 'another'}")
    del report["faults"][20:]


KNOWN = {}


def digest(lasting, writes):
    # The same bytes are looked at in most states.
    key = (id(lasting), len(lasting), tuple((offset, id(data)) for offset, data in writes))
    if key not in KNOWN:
        KNOWN[key] = (hashlib.sha256(apply_writes(lasting, writes)).hexdigest(), lasting, list(writes))
    return KNOWN[key][0]


def write(directory, synchronous):
    """The statements that a write of the service comes down to: WAL, one transaction an acknowledgement."""
    place = os.path.join(directory, "matchmark.db")
    conn = sqlite3.connect(place)
    conn.executescript("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE t (n INTEGER PRIMARY KEY, text TEXT)")
    conn.close()
    conn = sqlite3.connect(place, isolation_level=None)
    conn.execute(f"PRAGMA synchronous = {synchronous}")
    for number in range(60):
        conn.execute("BEGIN IMMEDIATE")
        conn.execute("INSERT INTO t VALUES (?, ?)", (number, "x" * 600))
        conn.execute("COMMIT")
        os.write(1, b"ack-%d\n" % number)
    os._exit(0)


if sys.argv[1] == "write":
    write(sys.argv[2], sys.argv[3])
else:
    with open(sys.argv[4]) as file:
        run(sys.argv[1], sys.argv[2], os.path.realpath(sys.argv[3]), json.load(file), int(sys.argv[5]))
