import WebSocket, { type ClientOptions } from 'ws';
import type { Feed, ServerMessage } from '../../src/messages/codec.js';
import { leeway } from '../../src/messages/gen/leeway.js';

/** A WebSocket client that keeps what it got. */
export interface FeedsClient {
  readonly socket: WebSocket;
  readonly messages: ServerMessage[];
  /** ms, performance.now() of each message. */
  readonly at: number[];
  /** Payloads of the pings that came. */
  readonly pings: Buffer[];
  readonly closed: Promise<{ readonly code: number; readonly reason: string }>;
  subscribe(...wants: ReadonlyArray<Feed | { readonly feed: Feed; readonly maxRateHz: number }>): void;
}

/** Connects and waits for the greeting. @throws what refused it, with the status code in its message. */
export async function join(
  port: number,
  { protocols = [], ...options }: ClientOptions & { protocols?: string[] } = {},
): Promise<FeedsClient> {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/v1/feeds`, protocols, options);
  const messages: ServerMessage[] = [];
  const at: number[] = [];
  const pings: Buffer[] = [];
  socket.on('ping', (payload: Buffer) => pings.push(payload));
  const greeted = new Promise<void>((resolve, reject) => {
    socket.once('message', () => resolve());
    socket.once('error', reject);
  });
  const closed = new Promise<{ code: number; reason: string }>((resolve) => {
    socket.once('close', (code, reason) => resolve({ code, reason: reason.toString() }));
  });
  socket.on('message', (data: Buffer, isBinary) => {
    at.push(performance.now());
    messages.push(isBinary ? leeway.v1.ServerMessage.decode(data) : JSON.parse(data.toString()));
  });
  await greeted;
  return {
    ...{ socket, messages, at, pings, closed },
    subscribe: (...wants) => socket.send(subscription(...wants)),
  };
}

/** @returns a binary ClientMessage. */
export function subscription(
  ...wants: ReadonlyArray<Feed | { readonly feed: Feed; readonly maxRateHz: number }>
): Uint8Array {
  const list = wants.map((want) => (typeof want === 'number' ? { feed: want } : want));
  return leeway.v1.ClientMessage.encode({ subscribe: { wants: list } }).finish();
}

/** Waits until it is so, a turn of the event loop at a time. @throws after `limit` s. */
export async function until(isSo: () => boolean, what: string, limit = 5): Promise<void> {
  const end = performance.now() + limit * 1000;
  while (!isSo()) {
    if (performance.now() > end) throw new Error(`not within ${limit} s: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 1));
  }
}
