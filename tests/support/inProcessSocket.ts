import type { Clock } from '../../src/core/clock.js';
import type { Feeds } from '../../src/pipeline/feeds.js';

const LATENCY = 0.001; // s, from the daemon to the client and back

/**
 * A WebSocket class whose sockets lead straight to a daemon's feeds: every message goes through its bytes and takes a
 * millisecond. What the server adds (handshake, pace, rates) is not in it.
 */
export function socketTo(feeds: Feeds, clock: Clock): new (url: string, protocols: string[]) => object {
  return class {
    binaryType = '';
    onopen: (() => void) | null = null;
    onmessage: ((event: { data: unknown }) => void) | null = null;
    onclose: ((event: { reason: string }) => void) | null = null;
    onerror: (() => void) | null = null;
    readonly #wanted = new Set<number>();
    readonly #subscription: { unsubscribe(): void };

    constructor() {
      clock.after(0, () => {
        this.onopen?.();
        this.#deliver(feeds.hello('drive').bytes('proto'));
      });
      this.#subscription = feeds.messages.subscribe((message) => {
        if (this.#wanted.has(message.feed)) this.#deliver(message.bytes('proto'));
      });
    }

    send(bytes: Uint8Array): void {
      const sent = Uint8Array.from(bytes);
      clock.after(LATENCY, () => {
        const request = feeds.read('proto', sent);
        if (request.kind === 'other') feeds.act(request, 'drive');
        else for (const { feed } of request.wants) this.#wanted.add(feed);
      });
    }

    close(): void {
      this.#subscription.unsubscribe();
    }

    #deliver(bytes: Uint8Array | string): void {
      if (typeof bytes === 'string') throw new TypeError('text where bytes were agreed');
      const data = Uint8Array.from(bytes).buffer; // not slice: that of a Buffer is a view
      clock.after(LATENCY, () => this.onmessage?.({ data }));
    }
  };
}
