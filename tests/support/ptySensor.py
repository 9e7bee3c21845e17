"""A sensor at the far end of a pseudo-terminal: plays bytes at their times and tells what it was sent.

usage: ptySensor.py LINK      LINK becomes a symbolic link to the terminal's near end
stdin:  records, each a little-endian double (s after the first record came in; 0: at once), an unsigned int (length), the bytes
stdout: "ready", then "w INDEX NANOSECONDS" after each record is written and "r HEX" for bytes received (CLOCK_MONOTONIC)
Ends, and so pulls the cable, when killed.
"""
import os
import struct
import sys
import threading
import time
import tty

link = sys.argv[1]
master, near = os.openpty()
tty.setraw(near)
if os.path.islink(link):
    os.unlink(link)
os.symlink(os.ttyname(near), link)
lock = threading.Lock()


def tell(line):
    with lock:
        try:
            sys.stdout.write(line + "\n")
            sys.stdout.flush()
        except BrokenPipeError:
            os._exit(0)  # nobody listens any more


def listen():
    while True:
        try:
            got = os.read(master, 4096)
        except OSError:
            time.sleep(0.01)  # nobody has the near end open
            continue
        if not got:
            return
        tell("r " + got.hex())


def read_all(count):
    parts = b""
    while len(parts) < count:
        part = os.read(0, count - len(parts))
        if not part:
            return None
        parts += part
    return parts


threading.Thread(target=listen, daemon=True).start()
tell("ready")
start = None
index = 0
while True:
    head = read_all(12)
    if head is None:
        break
    at, length = struct.unpack("<dI", head)
    body = read_all(length)
    if start is None:
        start = time.monotonic()
    wait = start + at - time.monotonic()
    if wait > 0:
        time.sleep(wait)
    while body:
        body = body[os.write(master, body):]
    tell("w %d %d" % (index, time.monotonic_ns()))
    index += 1
while True:
    time.sleep(3600)
