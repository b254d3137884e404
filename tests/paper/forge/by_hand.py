"""Forgeries that no library writes: two readers may take these files differently."""

import re

from common import FORGED, keep


def by_hand():
    data = open(FORGED, "rb").read()
    # The old page hides behind a second object of its number, with a table that leads to the new one.
    number = re.search(rb"\n(\d+) 0 obj\n<</Type/Page/", data).group(1)
    page = re.search(rb"\n" + number + rb" 0 obj\n.*?endobj\n", data, re.S).group()[1:]
    at = data.index(b"\n" + number + b" 0 obj\n<</Type/Page/") + 1
    start = int(re.search(rb"startxref\s+(\d+)", data).group(1))
    size = int(re.search(rb"/Size (\d+)", data).group(1))
    root = re.search(rb"/Root (\d+ \d+ R)", data).group(1)

    def update(body, entry):
        table = b"xref\n%d 1\n%s trailer\n<</Size %d/Root %s/Prev %d>>\n" % (int(number), entry, size, root, start)
        return data + b"\n" + body + table + b"startxref\n%d\n%%%%EOF" % (len(data) + 1 + len(body))

    entry = b"%010d 00000 n \n" % (len(data) + 1)
    keep("page_again_at_the_end", "unclear", update(page.replace(b"/Type/Page/", b"/Type/Page/Rotate 90/"), entry))
    keep("page_struck_out_at_the_end", "unclear", update(b"", b"0000000000 65535 f \n"))
    spaced = page[:-8] + b" " * 8 + page[-8:]
    keep("entry_twice_in_a_page", "unclear", moved(data, at, page, page.replace(b"/Type/Page/", b"/Rotate 0/Type/Page/Rotate 90/")))
    keep("key_in_other_letters", "forged", moved(data, at, page, page.replace(b"/Type/Page/", b"/R#6ftate 90/Type/Page/")))
    keep("spaces_only", "same-pages", moved(data, at, page, spaced))
    keep("something_behind_the_end", "unclear", data + b"\n1 0 obj\n<<>>\nendobj\n")
    keep("something_before_the_start", "unclear", data.replace(b"\n1 0 obj", b"\n9999 0 obj\n<<>>\nendobj\n1 0 obj", 1))


def moved(data, at, old, new):
    """The same bytes with one object replaced, and the table of objects after it."""
    data = data[:at] + new + data[at + len(old) :]
    more = len(new) - len(old)
    start = data.index(b"\nxref\n") + 1
    table = re.sub(
        rb"(\d{10}) (\d{5} n)",
        lambda entry: b"%010d %s" % (int(entry.group(1)) + (more if int(entry.group(1)) > at else 0), entry.group(2)),
        data[start:],
    )
    table = re.sub(rb"startxref\s+\d+", b"startxref\n%d" % start, table)
    return data[:start] + table
