"""Says twenty times a second how fast a careful controller would let the rover creep ahead. It drives nothing.

    /usr/bin/python3 example.py [URL] [SECONDS]          the token, where one is needed, in the variable LEEWAY_TOKEN
"""
import asyncio
import os
import sys
import time

from rover import Rover

SPEED_MAX = 0.3  # m/s
BRAKE = 0.5  # m/s^2, less than the rover can
REACTION = 0.2  # s, until the brakes bite
STANDOFF = 0.1  # m, kept in any case; what others may do in that time is to be added where people walk


def allowed_speed(leeway):
    """The speed whose stopping distance v t + v^2 / (2 a) fits in the leeway less the standoff, m/s."""
    room = max(0.0, leeway - STANDOFF)
    return min(SPEED_MAX, BRAKE * ((REACTION**2 + 2 * room / BRAKE) ** 0.5 - REACTION))


async def main(url="http://127.0.0.1:5339", seconds="inf"):
    end = time.monotonic() + float(seconds)
    speed = 0.0
    async with Rover(url, os.environ.get("LEEWAY_TOKEN")) as rover:
        while time.monotonic() < end:
            leeway = rover.leeway_towards(0.0, closing_speed=speed)
            speed = allowed_speed(leeway)
            state = "stale" if rover.is_stale else "live"
            print("%.3f %s leeway %.3f m, speed %.3f m/s" % (time.time(), state, leeway, speed), flush=True)
            await asyncio.sleep(0.05)


if __name__ == "__main__":
    try:
        asyncio.run(main(*sys.argv[1:]))
    except (KeyboardInterrupt, BrokenPipeError):
        pass
