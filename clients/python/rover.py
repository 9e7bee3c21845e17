"""Reads a rover's leeway. **No safety function**: the rover's own stop and limits stay in charge.

Needs Debian's python3-protobuf and python3-websockets, and the messages that protoc makes once of proto/ (see README.md).
"""
import asyncio
import base64
import contextlib
import time
from urllib.parse import urlsplit

import websockets

from towards import leeway_towards

try:
    from leeway.v1 import clearance_pb2, envelope_pb2
except ImportError as error:
    raise ImportError("leeway/v1 is missing: make it with protoc as README.md says") from error

STALE_AFTER = 0.2  # s without a Clearance, by one's own monotonic clock, after which nothing is vouched for
SILENT_AFTER = 3.0  # s: the daemon sends a Clearance every 50 ms, also when its sensor is silent
BACK_OFF = (0.25, 0.5, 1, 2, 4)  # s between tries; the last one again and again
KNOWN = (clearance_pb2.SECTOR_STATE_CLEAR, clearance_pb2.SECTOR_STATE_OBSTACLE)  # any other number counts as unknown


class Rover:
    """A rover's senses as a client knows them. Whatever is not known for sure counts as no room.

    async with Rover("http://127.0.0.1:5339") as rover:
        speed = min(0.3, rover.leeway_towards(0.0) / 2)
    """

    def __init__(self, url, token=None, now=time.monotonic):
        """url such as http://rover:5339; token where the daemon asks for one; now a monotonic clock, s."""
        parts = urlsplit(url)
        if parts.scheme not in ("http", "https", "ws", "wss") or not parts.hostname:
            raise ValueError("%s is no address such as http://rover:5339" % url)
        scheme = "wss" if parts.scheme in ("https", "wss") else "ws"
        self._url = "%s://%s/v1/feeds" % (scheme, parts.netloc)
        self._protocols = ["leeway.v1.proto"]
        if token:
            carried = base64.urlsafe_b64encode(token.encode()).decode().rstrip("=")
            self._protocols.append("leeway.token." + carried)
        self._now = now
        self._task = None
        self._forget()

    def _forget(self):
        self.hello = self.clearance = self.health = None  # the newest of each, as protoc made them
        self._clearance_at = float("-inf")

    async def __aenter__(self):
        self._task = asyncio.create_task(self._stay_connected())
        return self

    async def __aexit__(self, *_):
        self._task.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await self._task  # a bug in there comes out here
        self._forget()

    @property
    def silence(self):
        """s since the newest Clearance came in, by one's own clock; infinite without one."""
        return self._now() - self._clearance_at

    @property
    def is_stale(self):
        """Whether the newest Clearance may no longer be acted on."""
        return not self.silence <= STALE_AFTER

    def leeway_towards(self, bearing, closing_speed=0.0):
        """How far the rover may go towards `bearing` (rad, counter-clockwise from ahead) without turning, m.

        0 where anything on the way is unknown, or when stale. `closing_speed` (m/s): the way gone since the Clearance came in is
        taken off. What others may do meanwhile is yours to take off.
        """
        silence = self.silence
        if not silence <= STALE_AFTER or self.hello is None:
            return 0.0
        clearance, hello = self.clearance, self.hello
        vouched = leeway_towards(
            bearing,
            clearance.first_bearing_rad,
            clearance.leeway_m,
            [state in KNOWN for state in clearance.state],
            [(corner.x_m, corner.y_m) for corner in hello.outline_m],
            hello.reach_m[1] if len(hello.reach_m) > 1 else 0.0,
        )
        gone = max(0.0, closing_speed) * silence
        return vouched - gone if gone < vouched else 0.0  # a speed that is not a number leaves nothing

    def take(self, data):
        """Takes in one message of the daemon. Raises google.protobuf.message.DecodeError where it is none."""
        message = envelope_pb2.ServerMessage.FromString(data)
        body = message.WhichOneof("body")
        if body == "clearance":
            self._clearance_at = self._now()
        if body in ("hello", "clearance", "health"):
            setattr(self, body, getattr(message, body))

    async def _stay_connected(self):
        tries = 0
        while True:
            try:
                async with websockets.connect(
                    self._url, subprotocols=self._protocols, compression=None, open_timeout=5, close_timeout=1
                ) as socket:
                    await socket.send(self._subscribe())
                    while True:
                        self.take(await asyncio.wait_for(socket.recv(), SILENT_AFTER))
                        tries = 0
            except (OSError, asyncio.TimeoutError, websockets.WebSocketException):
                pass  # gone, silent, refused: the state says so, and it is tried again
            self._forget()
            await asyncio.sleep(BACK_OFF[min(tries, len(BACK_OFF) - 1)])
            tries += 1

    @staticmethod
    def _subscribe():
        message = envelope_pb2.ClientMessage()
        for feed in (envelope_pb2.FEED_CLEARANCE, envelope_pb2.FEED_HEALTH):
            message.subscribe.wants.add(feed=feed)
        return message.SerializeToString()
