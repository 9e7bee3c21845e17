import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { connect, type Options, type Rover } from '../../../clients/typescript/src/client.js';
import { encodeProto, Feed, type ServerMessage } from '../../../src/messages/codec.js';
import { leeway } from '../../../src/messages/gen/leeway.js';

/** A WebSocket whose other end is the test. */
class FakeSocket {
  static all: FakeSocket[] = [];
  readonly url: string;
  readonly protocols: string[];
  readonly sent: Uint8Array[] = [];
  isClosed = false;
  binaryType = '';
  onopen: (() => void) | null = null;
  onmessage: ((event: { data: unknown }) => void) | null = null;
  onclose: ((event: { code: number; reason: string }) => void) | null = null;
  onerror: (() => void) | null = null;

  constructor(url: string, protocols: string[]) {
    this.url = url;
    this.protocols = protocols;
    FakeSocket.all.push(this);
  }
  send(data: Uint8Array): void {
    this.sent.push(data);
  }
  close(): void {
    this.isClosed = true;
  }
  say(message: ServerMessage): void {
    this.onmessage?.({ data: Uint8Array.from(encodeProto(message)).buffer });
  }
  greet(): void {
    this.onopen?.();
    const outlineM = [
      { xM: 0.2, yM: 0.16 },
      { xM: -0.2, yM: 0.16 },
      { xM: -0.2, yM: -0.16 },
      { xM: 0.2, yM: -0.16 },
    ];
    this.say({
      sequence: 0,
      timeS: 100,
      sentS: 100,
      hello: { rover: 'cart', role: 'watch', outlineM, reachM: [0.15, 12] },
    });
  }
  vouch(leewayM: number, state = 3): void {
    const all = (value: number): number[] => Array.from({ length: 8 }, () => value);
    this.say({
      sequence: 1,
      timeS: 100,
      sentS: 100.04,
      clearance: { state: all(state), leewayM: all(leewayM), nearestM: all(1) },
    });
  }
}

let rover: Rover | undefined;
beforeEach(() => {
  vi.useFakeTimers();
  FakeSocket.all = [];
});
afterEach(() => {
  rover?.close();
  vi.useRealTimers();
});

function start(options: Options = {}): { rover: Rover; socket: FakeSocket; last: () => FakeSocket } {
  rover = connect('http://cart:5339', { WebSocket: FakeSocket, now: () => Date.now() / 1000, ...options });
  return { rover, socket: FakeSocket.all[0], last: () => FakeSocket.all[FakeSocket.all.length - 1] };
}

test.each([
  ['http://cart:5339', 'ws://cart:5339/v1/feeds'],
  ['https://cart', 'wss://cart/v1/feeds'],
  ['ws://cart:5339/v1/feeds', 'ws://cart:5339/v1/feeds'],
])('%s is asked at %s', (url, asked) => {
  connect(url, { WebSocket: FakeSocket }).close();
  expect(FakeSocket.all[0].url).toBe(asked);
});

test('subscribes first, to clearance in any case', () => {
  const { socket } = start({ wants: ['health', { feed: 'sweep', maxRateHz: 2 }] });
  socket.greet();
  const { subscribe } = leeway.v1.ClientMessage.decode(socket.sent[0]);
  expect(subscribe?.wants?.map(({ feed, maxRateHz }) => [feed, maxRateHz ?? 0])).toEqual([
    [Feed.FEED_CLEARANCE, 0],
    [Feed.FEED_HEALTH, 0],
    [Feed.FEED_SWEEP, 2],
  ]);
});

test('a token travels as a subprotocol, base64url without padding (RFC 4648, 5)', () => {
  const { socket } = start({ token: 'a?>~ü' });
  expect(socket.protocols).toEqual(['leeway.v1.proto', 'leeway.token.YT8-fsO8']);
});

test('leeway holds for 0.2 s by its own clock, then all of it is 0, whatever the daemon said', () => {
  const { rover, socket } = start();
  expect(rover.leewayTowards(0)).toBe(0);
  socket.greet();
  expect(rover.leewayTowards(0)).toBe(0);
  socket.vouch(2);
  expect([rover.isStale, rover.leewayTowards(0), rover.leeway()[3]]).toEqual([false, 2, 2]);
  vi.advanceTimersByTime(199);
  expect(rover.leewayTowards(0)).toBe(2);
  vi.advanceTimersByTime(2);
  expect([rover.isStale, rover.leewayTowards(0), rover.leeway()[3]]).toEqual([true, 0, 0]);
  socket.vouch(1.5);
  expect(rover.leewayTowards(0)).toBe(1.5);
});

test('closing speed takes off the way gone since the message came in', () => {
  const { rover, socket } = start();
  socket.greet();
  socket.vouch(0.5);
  vi.advanceTimersByTime(100);
  expect(rover.leewayTowards(0, { closingSpeed: 2 })).toBeCloseTo(0.3, 6);
  expect(rover.leewayTowards(0, { closingSpeed: 6 })).toBe(0);
  expect(rover.leewayTowards(0, { closingSpeed: -1 })).toBe(0.5);
  expect(rover.leewayTowards(0, { closingSpeed: NaN })).toBe(0);
});

test('age is what the daemon says plus the silence since', () => {
  const { rover, socket } = start();
  expect(rover.age).toBe(Infinity);
  socket.greet();
  socket.vouch(1);
  vi.advanceTimersByTime(50);
  expect(rover.age).toBeCloseTo(0.09, 6);
});

test('unknown is no room', () => {
  const { rover, socket } = start();
  socket.greet();
  socket.vouch(2, 1);
  expect(rover.leewayTowards(1)).toBe(0);
});

test('what was known is forgotten with the connection; it comes back after 0.25, 0.5, 1, 2, 4, 4 s', () => {
  const { rover, socket, last } = start();
  const heard: string[] = [];
  rover.on('connection', (isConnected, reason) => heard.push(`${isConnected} ${reason}`));
  socket.greet();
  socket.vouch(2);
  expect(rover.isConnected).toBe(true);
  const waits: number[] = [];
  for (let i = 0; i < 6; i++) {
    last().onclose?.({ code: 1006, reason: 'gone' });
    expect([rover.isConnected, rover.clearance, rover.hello, rover.leewayTowards(0)]).toEqual([
      false,
      undefined,
      undefined,
      0,
    ]);
    const before = FakeSocket.all.length;
    waits.push(rover.retryIn);
    vi.advanceTimersByTime(rover.retryIn * 1000 - 1);
    expect(FakeSocket.all.length).toBe(before);
    vi.advanceTimersByTime(1);
    expect(FakeSocket.all.length).toBe(before + 1);
  }
  expect(waits.map((wait) => Number(wait.toFixed(3)))).toEqual([0.25, 0.5, 1, 2, 4, 4]);
  last().greet();
  last().onclose?.({ code: 1001, reason: 'stopping' });
  expect(rover.retryIn).toBeCloseTo(0.25, 6); // a greeting starts the waits anew
  expect(heard).toEqual(['true ', ...Array.from({ length: 6 }, () => 'false gone'), 'true ', 'false stopping']);
  rover.retryNow();
  expect(rover.retryIn).toBe(0);
});

test('a line that was cut without a word is given up after 3 s of silence', () => {
  const { socket, last } = start();
  socket.greet();
  socket.vouch(1);
  vi.advanceTimersByTime(5000);
  expect(socket.isClosed).toBe(true);
  expect(last()).not.toBe(socket);
});

test('bytes that are no message end the connection: what says them must not be acted on', () => {
  const { rover, socket } = start();
  socket.greet();
  socket.vouch(2);
  socket.onmessage?.({ data: Uint8Array.of(0xff, 0xff, 0xff).buffer });
  expect([socket.isClosed, rover.leewayTowards(0)]).toEqual([true, 0]);
});

test('a late word of a socket that was given up changes nothing', () => {
  const { rover, socket, last } = start();
  socket.greet();
  socket.onclose?.({ code: 1006, reason: '' });
  vi.advanceTimersByTime(300);
  last().greet();
  socket.vouch(2);
  expect(rover.clearance).toBeUndefined();
});

test('listeners are called until they are taken away; after close nothing is tried', () => {
  const { rover, socket } = start();
  const ahead: number[] = [];
  const off = rover.on('clearance', ({ leewayM }, { sentS }) => ahead.push(leewayM[0], sentS));
  socket.greet();
  socket.vouch(2);
  off();
  socket.vouch(1);
  expect(ahead).toEqual([2, 100.04]);
  rover.close();
  vi.advanceTimersByTime(60_000);
  expect(FakeSocket.all.length).toBe(1);
  expect(rover.send({ mark: { text: 'x' } })).toBe(false);
});

test('without any WebSocket it says so', () => {
  vi.stubGlobal('WebSocket', undefined);
  try {
    expect(() => connect('http://cart')).toThrow('no WebSocket here');
  } finally {
    vi.unstubAllGlobals();
  }
});
