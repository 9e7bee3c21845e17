// Plays 120 s of a run with the built program, after 60 s to warm up, and tells how long it took.
import { Replayed, replaySettings } from '../../dist/cli/replay.js';
import { RunFile } from '../../dist/runs/runFile.js';

const run = new RunFile(process.argv[2]);
const { player, daemon } = new Replayed(run, replaySettings(run, undefined, []), '');
let sweeps = 0;
daemon.feeds.messages.subscribe(({ message }) => {
  if (message.shapes) sweeps++;
});
await player.advance(run.about.began_s + 60, () => false);
const began = performance.now();
const used = process.cpuUsage();
await player.advance(run.about.began_s + 180, () => false);
const { user, system } = process.cpuUsage(used);
console.log(JSON.stringify({ wall: (performance.now() - began) / 1000, cpu: (user + system) / 1e6, sweeps }));
