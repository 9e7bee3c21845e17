"""A serial line without hardware, for tests/support/ptyLine.ts: a pseudo-terminal whose far end is this process.

Argument: path of a link that is made to the terminal. Standard input goes out on the line as it comes; what the line brings is
written to standard output, one line of hexadecimal digits a read. The first line is "open PATH". End of input pulls the cable.
"""
import os
import pty
import select
import sys
import tty

link = sys.argv[1]
near, far = pty.openpty()
tty.setraw(near)
tty.setraw(far)
path = os.ttyname(far)
if os.path.lexists(link):
    os.unlink(link)
os.symlink(path, link)
os.close(far)
print("open", path, flush=True)
try:
    while True:
        readable, _, _ = select.select([sys.stdin.fileno(), near], [], [], 1)
        if sys.stdin.fileno() in readable:
            data = os.read(sys.stdin.fileno(), 65536)
            if not data:
                break
            while data:
                data = data[os.write(near, data):]
        if near in readable:
            try:
                print(os.read(near, 4096).hex(), flush=True)
            except OSError:  # nobody has the terminal open just now
                select.select([sys.stdin.fileno()], [], [], 0.01)
finally:
    os.unlink(link)
