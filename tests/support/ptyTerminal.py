"""A terminal for tests/support/ptyTerminal.ts: runs a command in a pseudo-terminal of a given size.

Arguments: columns, rows, command... Standard input: one JSON line each, {"keys": TEXT}, {"size": [COLUMNS, ROWS]} or
{"signal": NUMBER}. Standard output: one JSON line each, {"pid": N}, {"text": TEXT} as it comes, and at the end {"code": N,
"isSame": whether the terminal's settings are again what they were}; a command that a signal ended has minus its number as code.
"""
import codecs
import fcntl
import json
import os
import select
import struct
import subprocess
import sys
import termios

columns, rows = int(sys.argv[1]), int(sys.argv[2])
near, far = os.openpty()


def resize(columns, rows):
    fcntl.ioctl(near, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))


def say(message):
    print(json.dumps(message), flush=True)


def own():
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


resize(columns, rows)
before = termios.tcgetattr(far)
child = subprocess.Popen(sys.argv[3:], stdin=far, stdout=far, stderr=far, start_new_session=True, preexec_fn=own)
say({"pid": child.pid})
decoder = codecs.getincrementaldecoder("utf-8")("replace")
commands = b""
isOpen = True
try:
    while True:
        sources = [near, sys.stdin.fileno()] if isOpen else [near]
        readable, _, _ = select.select(sources, [], [], 0.02)
        if near in readable:
            say({"text": decoder.decode(os.read(near, 65536))})
        elif child.poll() is not None:
            break
        if sys.stdin.fileno() in readable:
            data = os.read(sys.stdin.fileno(), 65536)
            if not data:  # the test has gone
                isOpen = False
                child.kill()
            commands += data
            *lines, commands = commands.split(b"\n")
            for command in map(json.loads, lines):
                if "keys" in command:
                    os.write(near, command["keys"].encode())
                elif "size" in command:
                    resize(*command["size"])
                else:
                    child.send_signal(command["signal"])
finally:
    if child.poll() is None:
        child.kill()
    say({"code": child.wait(), "isSame": termios.tcgetattr(far) == before})
