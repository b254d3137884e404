"""An integrator's program on the generated client: registers a kit, issues its pack, fetches it and other files, follows what happens,
and checks what is posted to it."""

import base64
import hashlib
import hmac
import io
import json
import os
import queue
import threading
import uuid
import zipfile
from http.server import BaseHTTPRequestHandler, HTTPServer

from httpx import Timeout
from service_client import AuthenticatedClient
from service_client.api.events import list_events
from service_client.api.files import (
    download_kit_file,
    download_revision_file,
    list_kit_files,
    list_revision_files,
)
from service_client.api.kits import import_kits, move_kit, read_kit
from service_client.api.notices import acknowledge_notice, raise_notice
from service_client.api.packs import download_pack, issue_pack, list_packs, read_manifest
from service_client.api.solids import download_solid
from service_client.api.wraps import draw_wrap_pdf, draw_wrap_svg, list_wraps
from service_client.models import (
    ChangeClass,
    End,
    EventList,
    EventType,
    EventView,
    HolderMessage,
    HolderMessageType,
    KitView,
    NewMove,
    NewNotice,
    NewPack,
    PackView,
    Paper,
    ProblemDetails,
)
from service_client.types import File

client = AuthenticatedClient(base_url=os.environ["SERVICE"], token=os.environ["TOKEN"], timeout=Timeout(60))
design, letter, serial = "fenrunner-two", "A", "QF-7001"
posted: "queue.Queue[tuple[str, bytes]]" = queue.Queue()


class Receiver(BaseHTTPRequestHandler):
    """Takes what is posted, once its signature is right."""

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["content-length"]))
        message = f"{self.headers['webhook-id']}.{self.headers['webhook-timestamp']}.".encode() + body
        digest = hmac.new(os.environ["WEBHOOK_SECRET"].encode(), message, hashlib.sha256).digest()
        right = hmac.compare_digest(f"v1,{base64.b64encode(digest).decode()}", self.headers["webhook-signature"])
        if right:
            posted.put((self.headers["webhook-id"], body))
        self.send_response(204 if right else 400)
        self.end_headers()

    def log_message(self, *_: object) -> None:
        pass


receiver = HTTPServer(("127.0.0.1", int(os.environ["WEBHOOK_PORT"])), Receiver)
threading.Thread(target=receiver.serve_forever, daemon=True).start()


def bytes_of(answer: object) -> bytes:
    assert isinstance(answer, File), answer
    return answer.payload.read()


def events_after(after: int) -> list[EventView]:
    found: list[EventView] = []
    while True:
        answer = list_events.sync(client=client, after=after, limit=50)
        assert isinstance(answer, EventList), answer
        if not answer.events:
            return found
        found.extend(answer.events)
        after = answer.next_


before = max((event.id for event in events_after(0)), default=0)
lines = (
    "serial,design,revision,customer_name,customer_email\n"
    f"{serial},{design},{letter},Ines Halvard,ines@example.com\n"
)
imported = import_kits.sync_detailed(client=client, body=File(payload=io.BytesIO(lines.encode())))
assert imported.status_code == 201, imported.content

kit = read_kit.sync(serial, client=client)
assert isinstance(kit, KitView), kit
assert kit.revision == letter

key = str(uuid.uuid4())
pack = issue_pack.sync(serial, client=client, body=NewPack(paper=Paper.LETTER), idempotency_key=key)
assert isinstance(pack, PackView), pack
again = issue_pack.sync(serial, client=client, body=NewPack(paper=Paper.LETTER), idempotency_key=key)
assert isinstance(again, PackView) and again.number == pack.number, again

file = bytes_of(download_pack.sync(serial, pack.number, client=client))
assert file.startswith(b"%PDF-1.7") and len(file) == pack.size
assert hashlib.sha256(file).hexdigest() == pack.sha256
assert read_manifest.sync_detailed(serial, pack.number, client=client).status_code == 200
assert list_packs.sync_detailed(serial, client=client).status_code == 200

wraps = list_wraps.sync_detailed(design, letter, client=client)
assert wraps.status_code == 200
svg = draw_wrap_svg.sync(design, letter, "back_stay.L", End.TO, client=client)
assert isinstance(svg, str) and "<svg" in svg
pdf = draw_wrap_pdf.sync(design, letter, "back_stay.L", End.TO, client=client)
assert bytes_of(pdf).startswith(b"%PDF-1.7")
step = download_solid.sync(design, letter, "back_stay.L", client=client)
assert isinstance(step, str) and step.startswith("ISO-10303-21;")

# Files for machines, of the revision and of the kit.
assert list_revision_files.sync_detailed(design, letter, client=client).status_code == 200
assert list_kit_files.sync_detailed(serial, client=client).status_code == 200
table = download_kit_file.sync_detailed(serial, "cut-sheet.csv", client=client)
assert table.status_code == 200 and b"back_stay.L" in table.content, table.content[:200]
archive = download_revision_file.sync_detailed(design, letter, "all.zip", client=client)
assert archive.status_code == 200, archive.content[:200]
with zipfile.ZipFile(io.BytesIO(archive.content)) as held:
    assert held.testzip() is None and "tables/cut-sheet.csv" in held.namelist(), held.namelist()[:9]

# A change, told to the holder, answered, and put into the kit.
notice = NewNotice(from_="A", to="B", class_=ChangeClass.RECOMMENDED, text="Change the stays before you weld them.")
raised = raise_notice.sync_detailed(design, client=client, body=notice)
assert raised.status_code == 201, raised.content
number = json.loads(raised.content)["number"]
answered = acknowledge_notice.sync_detailed(serial, number, client=client)
assert answered.status_code == 200, answered.content
moved = move_kit.sync_detailed(serial, client=client, body=NewMove(revision="B", reason="All parts replaced."))
assert moved.status_code == 201, moved.content

# What happened, in order.
new = [event for event in events_after(before) if event.facts.kit == serial]
assert [event.type_ for event in new] == [
    EventType.KIT_REGISTERED,
    EventType.PACK_ISSUED,
    EventType.NOTICE_ACKNOWLEDGED,
    EventType.KIT_MOVED,
], new
assert new[1].facts.sha256 == pack.sha256 and new[1].subject == f"/v1/kits/{serial}/packs/{pack.number}"

# The same, posted: the pack as an event, and the notice as a message to its holder.
wanted = {f"event.{new[1].id}.webhook", f"notice.{design}.{number}.{serial}.webhook"}
while wanted:
    name, body = posted.get(timeout=60)
    if name in wanted and name.startswith("event."):
        event = EventView.from_dict(json.loads(body))
        assert event.to_dict() == new[1].to_dict(), event
    elif name in wanted:
        message = HolderMessage.from_dict(json.loads(body))
        assert message.type_ == HolderMessageType.NOTICE and message.kit == serial, message
    wanted.discard(name)

unknown = read_kit.sync("QF-0000", client=client)
assert isinstance(unknown, ProblemDetails) and unknown.type_ == "/problems/unknown-kit", unknown
print("done")
