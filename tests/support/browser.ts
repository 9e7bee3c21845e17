import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import axe from 'axe-core';
import { type Browser, chromium, type Page } from 'playwright-core';
import { expect } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const CHROMIUM = '/usr/bin/chromium';
const PICTURES = join(ROOT, 'artefacts');
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Why tests in a browser cannot run here; undefined: they can. */
export const noBrowser = existsSync(CHROMIUM)
  ? undefined
  : `there is no ${CHROMIUM} (apt-get install chromium): the page was not looked at in a browser`;

/** Says so where tests in a browser are skipped. */
export function sayWhySkipped(what: string): void {
  if (noBrowser !== undefined) console.warn(`skipped: ${what}: ${noBrowser}`);
}

/** Starts Debian's browser; `more` are flags beside the usual ones. */
export function launch(...more: readonly string[]): Promise<Browser> {
  mkdirSync(PICTURES, { recursive: true });
  return chromium.launch({ executablePath: CHROMIUM, args: [...FLAGS, ...more] });
}

/** Builds the page from its source into a folder of its own. @returns the folder, and what takes it away. */
export function buildPage(): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-web-'));
  const vite = join(ROOT, 'node_modules/.bin/vite');
  execFileSync(process.execPath, [vite, 'build', 'clients/web', '--outDir', folder, '--logLevel', 'warn'], {
    cwd: ROOT,
  });
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** What a page must not do: complain, or ask anybody but its daemon. */
export interface Watched {
  readonly complaints: string[];
  readonly foreign: string[];
}

/** Opens a page at a daemon and watches it. */
export async function openPage(
  browser: Browser,
  url: string,
  {
    width = 1600,
    height = 1000,
    ...options
  }: { width?: number; height?: number } & Parameters<Browser['newPage']>[0] = {},
): Promise<{ page: Page } & Watched> {
  const page = await browser.newPage({ viewport: { width, height }, ...options });
  const complaints: string[] = [];
  const foreign: string[] = [];
  page.on('console', (message) => {
    // a refused or lost connection is logged by the browser itself
    if (message.type() === 'error' && !/WebSocket|Failed to load resource/.test(message.text()))
      complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('request', (request) => {
    if (!request.url().startsWith(url.replace(/^http/, 'http')) && !request.url().startsWith('data:'))
      foreign.push(request.url());
  });
  await page.goto(url);
  return { page, complaints, foreign };
}

/** Keeps a picture as an artefact. */
export async function picture(page: Page, name: string): Promise<void> {
  await page.screenshot({ path: join(PICTURES, `page-${name}.png`) });
}

interface AxeResults {
  readonly violations: ReadonlyArray<{
    id: string;
    impact: string;
    help: string;
    nodes: ReadonlyArray<{ target: string[] }>;
  }>;
}

/** Asks axe-core (WCAG 2.1 A and AA, best practices) and expects nothing serious. */
export async function expectAccessible(page: Page): Promise<void> {
  await page.evaluate(axe.source); // not by a script element: the page's own policy forbids that
  const { violations } = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
  );
  const serious = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
  const told = serious.map(
    ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`,
  );
  expect(told).toEqual([]);
}

/** What is drawn at a point of the rover's axes: `wash`, `hatch` (unknown), `clear` (only the ground's own light hatch), `other`. */
export function drawnAt(page: Page, x: number, y: number): Promise<string> {
  return page.evaluate(
    ([px, py]) => {
      const sheet = document.getElementById('plan');
      const canvas = document.getElementById('plan-live');
      if (!(sheet instanceof HTMLElement && canvas instanceof HTMLCanvasElement)) return 'none';
      const scale = Number(sheet.dataset.pxPerM);
      const turn = Number(sheet.dataset.turn);
      const [cx, cy] = (sheet.dataset.cart ?? '').split(' ').map(Number);
      const sx = cx + scale * (px * Math.cos(turn) - py * Math.sin(turn));
      const sy = cy - scale * (px * Math.sin(turn) + py * Math.cos(turn));
      const side = 18;
      const ratio = canvas.width / canvas.clientWidth;
      const data = canvas
        .getContext('2d')
        ?.getImageData((sx - side / 2) * ratio, (sy - side / 2) * ratio, side * ratio, side * ratio).data;
      if (data === undefined) return 'none';
      let washed = 0;
      let dark = 0;
      let empty = 0;
      for (let i = 0; i < data.length; i += 4) {
        const [r, g, b, a] = [data[i], data[i + 1], data[i + 2], data[i + 3]];
        if (a < 30) empty++;
        else if (g - r > 18) washed++;
        else if (r < 200 && Math.abs(r - b) < 40) dark++;
      }
      const all = data.length / 4;
      if (washed > 0.7 * all) return 'wash';
      if (empty > 0.7 * all) return 'clear';
      if (dark > 0.08 * all && washed < 0.1 * all) return 'hatch';
      return 'other';
    },
    [x, y] as const,
  );
}
