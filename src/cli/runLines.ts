import { Feed, type ServerMessage } from '../messages/codec.js';
import { toProtoJson } from '../messages/protoJson.js';
import type { FeedMessage } from '../pipeline/feedMessage.js';

/**
 * Makes one JSON line a sweep from a run's messages: `{"sweep","timeS","clearance","shapes","movers","motion"}`, with the newest
 * Clearance that went before the sweep was whole.
 */
export class RunLines {
  #clearance: NonNullable<ServerMessage['clearance']> = {};
  #sweep: ServerMessage = {};
  #motion: NonNullable<ServerMessage['motion']> = {};
  #movers: NonNullable<ServerMessage['movers']> = {};

  /** @returns a line where a sweep is complete with all that it says. */
  take({ feed, message }: FeedMessage): string | undefined {
    if (message.clearance) this.#clearance = message.clearance;
    else if (message.sweep) this.#sweep = message;
    else if (message.motion) this.#motion = message.motion;
    else if (message.movers) this.#movers = message.movers;
    if (feed !== Feed.FEED_SHAPES || !message.shapes) return undefined; // the last of a sweep's messages
    const parts = [
      `"clearance":${toProtoJson('Clearance', this.#clearance)}`,
      `"shapes":${toProtoJson('Shapes', message.shapes)}`,
      `"movers":${toProtoJson('Movers', this.#movers)}`,
      `"motion":${toProtoJson('Motion', this.#motion)}`,
    ];
    return `{"sweep":${this.#sweep.sweep?.number ?? 0},"timeS":${this.#sweep.timeS ?? 0},${parts.join(',')}}`;
  }
}
