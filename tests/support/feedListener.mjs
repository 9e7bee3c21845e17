// A client in a process of its own: prints, for every Clearance of its first connection, when it came (ns of CLOCK_MONOTONIC) and what
// it says. Further connections are ordinary subscribers that read and forget.
// usage: node feedListener.mjs URL CONNECTIONS
import { WebSocket } from 'ws';
import { leeway } from '../../dist/messages/gen/leeway.js';

const [url, connections] = process.argv.slice(2);
const { ClientMessage, Feed, ServerMessage } = leeway.v1;
const subscribe = ClientMessage.encode({
  subscribe: { wants: [{ feed: Feed.FEED_CLEARANCE }, { feed: Feed.FEED_HEALTH }, { feed: Feed.FEED_SWEEP }] },
}).finish();
for (let i = 0; i < Number(connections); i++) {
  const socket = new WebSocket(`${url.replace('http', 'ws')}/v1/feeds`, ['leeway.v1.proto'], {
    perMessageDeflate: false,
  });
  socket.on('open', () => socket.send(subscribe));
  socket.on('message', (data) => {
    const came = process.hrtime.bigint();
    if (i > 0) return;
    const { clearance, sequence, timeS, sentS } = ServerMessage.decode(data);
    if (!clearance) return;
    const { state, leewayM } = clearance;
    process.stdout.write(
      `${JSON.stringify({ came: String(came), sequence: Number(sequence), timeS, sentS, state, leewayM })}\n`,
    );
  });
}
