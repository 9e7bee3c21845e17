// Seeks 20 times in a run with the built program and tells how long each took, ms, sorted; wall and processor.
import { replaySettings } from '../../dist/cli/replay.js';
import { ReplayFeeds } from '../../dist/cli/replayFeeds.js';
import { systemClock } from '../../dist/core/clock.js';
import { RunFile } from '../../dist/runs/runFile.js';

const run = new RunFile(process.argv[2]);
const settings = replaySettings(run, undefined, []);
const span = run.until - run.about.began_s;
const feeds = new ReplayFeeds({ run, settings, version: '', clock: systemClock(), pace: 1, neededRole: 'watch' });
const seeks = [];
const cpu = [];
for (let i = 0; i < 20; i++) {
  const atS = run.about.began_s + 5 + ((i * 1237) % (span - 60));
  const began = performance.now();
  const used = process.cpuUsage();
  await new Promise((resolve) => {
    const subscription = feeds.messages.subscribe(({ message }) => {
      if (message.run?.what !== 'seeked') return;
      subscription.unsubscribe();
      resolve();
    });
    feeds.act({ kind: 'other', body: { replay: { atS, paused: true } } }, 'watch');
  });
  seeks.push(performance.now() - began);
  const { user, system } = process.cpuUsage(used);
  cpu.push((user + system) / 1000);
}
await feeds.stop();
const rising = (a, b) => a - b;
console.log(JSON.stringify({ seeks: seeks.sort(rising), cpu: cpu.sort(rising) }));
