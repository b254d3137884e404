"""Makes the pictures of server/handbook/pictures anew, from the demo. Look at them before you keep them.

python handbook_pictures.py MATCHMARK     (the binary; needs pdftoppm, chromium and the packages of requirements.txt)
"""

import io
import json
import re
import subprocess
import sys
import tempfile
import urllib.parse
import urllib.request
from pathlib import Path

from PIL import Image

PICTURES = Path(__file__).parent.parent / "server/handbook/pictures"

# The first page of kit QF-0108's pack with this title, at so many dots an inch.
PACK_PAGES = {"wrap": ("Wrap hoop_diag_up, end 1", 75), "bend_sheet": ("Bend sheet main_hoop", 60), "cut_sheet": ("Cut sheet", 60),
              "fit_up": ("Fit-up order", 60), "pairs": ("Left and right parts", 60), "checks": ("Check dimensions", 60),
              "views": ("Frame, three views", 75), "pictorial": ("Frame, pictorial", 60), "stock_plan": ("Stock plan", 60)}


class Keep(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_):
        return None


def keep(name: str, picture: Image.Image, colours: int = 16) -> None:
    picture.convert("RGB").quantize(colours).save(PICTURES / f"{name}.png", optimize=True)


def page_of(pdf: bytes, page: int, dpi: int) -> Image.Image:
    done = subprocess.run(["pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), "-png"], input=pdf, capture_output=True, check=True)
    return Image.open(io.BytesIO(done.stdout))


def main(binary: str, scratch: Path) -> None:
    demo = subprocess.Popen([binary, "demo", "--listen", "127.0.0.1:0"], stdout=subprocess.PIPE, text=True)
    try:
        printed = ""
        while not (base := re.search(r"^Listening on (\S+)$", printed, re.M)):
            printed += demo.stdout.readline()
        pictures(base[1], re.search(r"publisher +(\S+)", printed)[1], scratch)
    finally:
        demo.kill()


def pictures(base: str, token: str, scratch: Path) -> None:
    opener = urllib.request.build_opener(Keep)

    def call(method: str, path: str, body: dict | None = None, **headers: str) -> bytes:
        data = None if body is None else json.dumps(body).encode()
        headers |= {"Authorization": f"Bearer {token}", "Content-Type": "application/json", "Idempotency-Key": path}
        return opener.open(urllib.request.Request(base + path, data, headers, method=method)).read()

    pack, account = call("GET", "/v1/kits/QF-0108/packs/1/file"), json.loads(call("GET", "/v1/kits/QF-0108/packs/1/manifest"))
    titles = [page["title"] for page in account["pages"]]
    for name, (wanted, dpi) in PACK_PAGES.items():
        keep(name, page_of(pack, 1 + next(n for n, title in enumerate(titles) if title.startswith(wanted)), dpi))

    form = urllib.parse.urlencode({"token": token}).encode()
    try:
        opener.open(urllib.request.Request(base + "/sign-in/token", form, {"Origin": base}, method="POST"))
        raise AssertionError("it signs nobody in")
    except urllib.error.HTTPError as answer:
        cookie = answer.headers["set-cookie"].split(";")[0]

    def shown(name: str, path: str) -> None:
        html = opener.open(urllib.request.Request(base + path, headers={"Cookie": cookie})).read().decode()
        style = opener.open(base + "/style.css").read().decode()
        html = html.replace('<link rel="stylesheet" href="/style.css">', f"<style>{style}</style>")
        (scratch / "page.html").write_text(html)
        subprocess.run(["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--window-size=800,680",
                        f"--user-data-dir={scratch}/profile", f"--screenshot={scratch}/page.png", f"file://{scratch}/page.html"],
                       check=True, capture_output=True)
        keep(name, Image.open(scratch / "page.png").resize((640, 544), Image.LANCZOS), 32)

    call("POST", "/v1/designs/fenrunner-two/notices",
         {"from": "A", "to": "B", "class": "mandatory", "text": "The harness bar sits 12 mm too low. Make it anew from revision B."})
    keep("notice", page_of(call("GET", "/v1/kits/QF-0101/notices/1/pages"), 5, 60))
    shown("kit_page", "/kits/QF-0101")
    draft = opener.open(urllib.request.Request(base + "/v1/designs/fenrunner-two/draft", headers={"Authorization": f"Bearer {token}"}))
    text, tag = draft.read().decode(), draft.headers["etag"]
    document = json.loads(text)
    document["sections"]["web"]["round"]["wall"] = 2
    call("PUT", "/v1/designs/fenrunner-two/draft", document, **{"If-Match": tag})
    shown("publish_page", "/designs/fenrunner-two/publish")
    call("POST", "/v1/designs/fenrunner-two/revisions/A/recall",
         {"hazard": "The main hoop can tear off its feet when the vehicle rolls over. People in it can be killed.",
          "what_to_do": "Stop building. Do not drive a vehicle with this frame. Keep all parts.",
          "remedies": "We replace both foot plates and the hoop free of charge, or take the kit back for its full price."})
    keep("stop_sheet", page_of(call("GET", "/v1/kits/QF-0101/stop-sheets/A/pdf"), 1, 60))


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        main(sys.argv[1], Path(folder))
