"""An integrator's program on the generated client: registers a kit, issues its pack, fetches it and other files, and plans the saw."""

import hashlib
import io
import os
import uuid

from httpx import Timeout
from service_client import AuthenticatedClient
from service_client.api.kits import get_kits_by_serial, post_kit_imports
from service_client.api.packs import (
    get_kits_by_serial_packs,
    get_kits_by_serial_packs_by_number_file,
    get_kits_by_serial_packs_by_number_manifest,
    post_kits_by_serial_packs,
)
from service_client.api.solids import get_designs_by_design_revisions_by_letter_members_by_member_solid_step
from service_client.api.wraps import (
    get_designs_by_design_revisions_by_letter_wraps,
    get_designs_by_design_revisions_by_letter_wraps_by_member_by_end_pdf,
    get_designs_by_design_revisions_by_letter_wraps_by_member_by_end_svg,
)
from service_client.models import End, KitView, NewPack, PackView, Paper, ProblemDetails
from service_client.types import File

client = AuthenticatedClient(base_url=os.environ["SERVICE"], token=os.environ["TOKEN"], timeout=Timeout(60))
design, letter = "fenrunner-two", "B"


def bytes_of(answer: object) -> bytes:
    assert isinstance(answer, File), answer
    return answer.payload.read()


lines = (
    "serial,design,revision,customer_name,customer_email\n"
    f"QF-7001,{design},{letter},Ines Halvard,ines@example.com\n"
)
imported = post_kit_imports.sync_detailed(client=client, body=File(payload=io.BytesIO(lines.encode())))
assert imported.status_code == 201, imported.content

kit = get_kits_by_serial.sync("QF-7001", client=client)
assert isinstance(kit, KitView), kit
assert kit.revision == letter

key = str(uuid.uuid4())
pack = post_kits_by_serial_packs.sync("QF-7001", client=client, body=NewPack(paper=Paper.LETTER), idempotency_key=key)
assert isinstance(pack, PackView), pack
again = post_kits_by_serial_packs.sync("QF-7001", client=client, body=NewPack(paper=Paper.LETTER), idempotency_key=key)
assert isinstance(again, PackView) and again.number == pack.number, again

file = bytes_of(get_kits_by_serial_packs_by_number_file.sync("QF-7001", pack.number, client=client))
assert file.startswith(b"%PDF-1.7") and len(file) == pack.size
assert hashlib.sha256(file).hexdigest() == pack.sha256
assert get_kits_by_serial_packs_by_number_manifest.sync_detailed("QF-7001", pack.number, client=client).status_code == 200
assert get_kits_by_serial_packs.sync_detailed("QF-7001", client=client).status_code == 200

wraps = get_designs_by_design_revisions_by_letter_wraps.sync_detailed(design, letter, client=client)
assert wraps.status_code == 200
svg = get_designs_by_design_revisions_by_letter_wraps_by_member_by_end_svg.sync(
    design, letter, "back_stay.L", End.TO, client=client
)
assert isinstance(svg, str) and "<svg" in svg
pdf = get_designs_by_design_revisions_by_letter_wraps_by_member_by_end_pdf.sync(
    design, letter, "back_stay.L", End.TO, client=client
)
assert bytes_of(pdf).startswith(b"%PDF-1.7")
step = get_designs_by_design_revisions_by_letter_members_by_member_solid_step.sync(
    design, letter, "back_stay.L", client=client
)
assert isinstance(step, str) and step.startswith("ISO-10303-21;")

unknown = get_kits_by_serial.sync("QF-0000", client=client)
assert isinstance(unknown, ProblemDetails) and unknown.type_ == "/problems/unknown-kit", unknown
print("done")
