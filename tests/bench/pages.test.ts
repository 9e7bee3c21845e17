// What 20 open pages do to a controller: how late Clearance comes to it, by the clock of this machine, without and with them.
import { spawn } from 'node:child_process';
import { cpus, loadavg } from 'node:os';
import { expect, test } from 'vitest';
import { connect } from '../../clients/typescript/src/client.js';
import { serve } from '../support/leeway.js';

const PAGES = 20;
const SECONDS = 10;

test('20 open pages do not move the controller’s latency', async () => {
  const served = await serve();
  const rover = connect(served.url);
  let late: number[] = [];
  rover.on('clearance', (_, { sentS }) => {
    late.push(Date.now() - sentS * 1000);
  });
  const measure = async (): Promise<{ p50: number; p99: number; count: number }> => {
    late = [];
    await new Promise((resolve) => setTimeout(resolve, SECONDS * 1000));
    late.sort((a, b) => a - b);
    return { p50: late[late.length >> 1], p99: late[Math.floor(0.99 * late.length)], count: late.length };
  };
  await new Promise((resolve) => setTimeout(resolve, 3000));
  const alone = await measure();
  const pages = spawn(process.execPath, ['tests/support/pages.mjs', served.url, String(PAGES)], { stdio: 'inherit' });
  await new Promise((resolve) => setTimeout(resolve, 3000));
  const beside = await measure();
  pages.kill();
  rover.close();
  await served.stop();
  const told = ({ p50, p99, count }: typeof alone): string =>
    `p50 ${p50.toFixed(2)} p99 ${p99.toFixed(2)} ms (${count})`;
  console.log(
    `${cpus()[0].model}, load ${loadavg()[0].toFixed(1)}: alone ${told(alone)}; beside ${PAGES} pages ${told(beside)}`,
  );
  expect(beside.count).toBeGreaterThan(0.8 * alone.count);
  expect(beside.p50 - alone.p50).toBeLessThan(2);
}, 60_000);
