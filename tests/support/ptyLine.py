"""A serial line without hardware, for tests/support/ptyLine.ts: a pseudo-terminal whose far end is this process.

Argument: path of a link that is made to the terminal. Standard input goes out on the line as it comes; what the line brings is
written to standard output, one line of hexadecimal digits a read. The first line is "open PATH". A line "baud N" tells the rate that
the near end has set, at first and when it changes. End of input pulls the cable.
"""
import array
import fcntl
import os
import pty
import select
import sys
import tty

TCGETS2 = 0x802C542A  # Linux, asm-generic/ioctls.h: struct termios2 of 44 bytes, its last two words are the rates

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
told = None


def tell_baud():
    """tcgetattr knows named rates only; this knows all."""
    global told
    termios2 = array.array("I", [0] * 11)
    try:
        fcntl.ioctl(near, TCGETS2, termios2)
    except OSError:  # another system than Linux
        return
    if termios2[10] != told:
        told = termios2[10]
        print("baud", told, flush=True)


try:
    while True:
        readable, _, _ = select.select([sys.stdin.fileno(), near], [], [], 0.02)
        tell_baud()
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
