"""An S3 endpoint on a free port of this machine, in memory. Prints its address; ends when standard input does."""

import logging
import sys

from moto.server import ThreadedMotoServer

logging.getLogger("werkzeug").setLevel(logging.ERROR)
server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
server.start()
host, port = server.get_host_and_port()
print(f"http://{host}:{port}", flush=True)
sys.stdin.read()
server.stop()
