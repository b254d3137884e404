"""An S3 endpoint on a free port of this machine, in memory. Prints its address; ends when standard input does.

A blob whose name is all of the letter a says that it was written two days ago.
"""

import datetime
import logging
import sys

from moto.s3.models import FakeKey
from moto.server import ThreadedMotoServer

made = FakeKey.__init__


def made_old(self, *arguments, **named):
    made(self, *arguments, **named)
    if self.name == "blobs/" + 64 * "a":
        self.last_modified -= datetime.timedelta(days=2)


FakeKey.__init__ = made_old

logging.getLogger("werkzeug").setLevel(logging.ERROR)
server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
server.start()
host, port = server.get_host_and_port()
print(f"http://{host}:{port}", flush=True)
sys.stdin.read()
server.stop()
