import { type Clearance, connect, type Health, type Point, type Rover } from '../../typescript/src/client.js';
import { made, part, say } from './dom.js';
import { Plan } from './plan.js';
import {
  findingSentence,
  lineOfTrust,
  metres,
  metresNeeded,
  noteOf,
  sentence,
  spoken,
  type Trust,
  type View,
} from './words.js';

const LOST_AFTER = 0.4; // s without a Clearance: with a frame and a late message it shows within 0.5 s
const FIGURES_EVERY = 0.25; // s: figures that change oftener cannot be read
const DIRECTIONS = ['ahead', 'ahead left', 'left', 'behind left', 'behind', 'behind right', 'right', 'ahead right'];
const TOKEN = 'leeway.token'; // where this tab remembers it

const plan = new Plan();
const root = document.documentElement;
let rover = open(sessionStorage.getItem(TOKEN) ?? undefined);
let trust: Trust = 'lost';
let since = new Date();
let wasHeard = false;
let refusal: View['refusal'];
let outline: readonly Point[] = []; // kept while lost: the rover has not vanished
let isNews = true;
let figuresAt = -Infinity;

function open(token: string | undefined): Rover {
  const opened = connect(location.origin, token === undefined ? {} : { token });
  const news = (): void => {
    isNews = true;
  };
  for (const name of ['hello', 'clearance', 'health'] as const) opened.on(name, news);
  opened.on('connection', (isConnected) => {
    news();
    if (isConnected) refusal = undefined;
    else void askWhy(token);
  });
  return opened;
}

/** A WebSocket does not tell the page why it was refused; the same question over HTTP does. */
async function askWhy(token: string | undefined): Promise<void> {
  try {
    const answer = await fetch(
      '/v1/feeds',
      token === undefined ? {} : { headers: { authorization: `Bearer ${token}` } },
    );
    const told: { code?: unknown; what?: unknown; remedy?: unknown } = await answer.json();
    const isRefusal = [401, 403, 503].includes(answer.status) && typeof told.what === 'string';
    refusal = isRefusal ? { code: String(told.code), what: String(told.what), remedy: String(told.remedy) } : undefined;
  } catch {
    refusal = undefined; // not there, or no daemon: the words for a lost connection fit
  }
  isNews = true;
}

function trustNow(): Trust {
  if (rover.health === undefined || !(rover.silence <= LOST_AFTER)) return 'lost';
  return rover.health.state === 'ok' ? 'sound' : rover.health.state;
}

/** Drawn when messages come, at most once a frame; a lost connection draws itself. */
function frame(): void {
  requestAnimationFrame(frame);
  const now = trustNow();
  if (now !== trust) {
    trust = now;
    since = new Date();
    isNews = true;
    figuresAt = -Infinity;
    root.dataset.trust = now;
  }
  if (now !== 'lost') wasHeard = true;
  const seconds = performance.now() / 1000;
  const areFiguresDue = seconds - figuresAt >= FIGURES_EVERY;
  if (areFiguresDue) {
    figuresAt = seconds;
    showWords();
    showFigures();
  }
  if (!isNews) return;
  isNews = false;
  const clearance = now === 'lost' ? undefined : rover.clearance;
  if (rover.hello !== undefined) outline = rover.hello.outlineM;
  plan.draw(outline, clearance);
  showAhead(clearance);
  showDirections();
}

function showWords(): void {
  const state = rover.clearance?.state ?? [];
  const unknown = state.filter((each) => each === 'unknown').length;
  const view: View = {
    ...{ trust, since, wasHeard, refusal, unknown, sectors: state.length },
    ...{ health: rover.health, age: rover.age, retryIn: rover.retryIn },
  };
  const { head, facts } = lineOfTrust(view);
  say('trust-head', head);
  say('trust-facts', facts);
  say('spoken', spoken(view));
  say('live', trust === 'lost' ? 'NOT LIVE' : 'LIVE');
  const note = noteOf(view, new Date());
  part('note', HTMLElement).hidden = note === undefined;
  say('note-title', note?.title ?? '');
  say('note-text', note?.text ?? '');
  const todo = part('note-do', HTMLElement);
  if (note !== undefined && todo.dataset.todo !== note.todo) {
    todo.dataset.todo = note.todo;
    todo.replaceChildren(made('b', 'Do: '), note.todo, ' ', ...(note.code === '' ? [] : [made('code', note.code)]));
  }
  part('token', HTMLFormElement).hidden = refusal?.code !== 'TOKEN_WRONG' || trust !== 'lost';
  part('retry', HTMLButtonElement).hidden = trust !== 'lost' || refusal?.code === 'TOKEN_WRONG';
  const { hello } = rover;
  if (hello === undefined) return;
  const simulated = hello.source === 'simulated' ? 'simulated, ' : '';
  say('rover', `${hello.rover} · ${simulated}role ${hello.role}`);
  say('stop', `stopping distance at full speed ${metresNeeded(hello.stopM)} m`);
}

function showAhead(clearance: Clearance | undefined): void {
  const ahead = trust === 'blind' ? 0 : (clearance?.aheadM ?? 0);
  const isShort = ahead < (rover.hello?.stopM ?? 0);
  say('ahead', metres(ahead));
  say('ahead-word', ahead > 0 ? (isShort ? 'below stopping distance' : 'vouched free') : 'not vouched for');
  part('gauge', HTMLElement).dataset.room = ahead > 0 ? (isShort ? 'short' : 'free') : 'none';
}

function showDirections(): void {
  // ahead the daemon knows finer, beam by beam; two figures for one thing would only puzzle
  const ahead = rover.isStale ? 0 : (rover.clearance?.aheadM ?? 0);
  const towards = DIRECTIONS.map(
    (name, i) => [name, i === 0 ? ahead : rover.leewayTowards((i * Math.PI) / 4)] as const,
  );
  list(
    'directions',
    towards.map(([name, leeway]) => [name, leeway > 0 ? metres(leeway) : 'not vouched for']),
  );
}

function showFigures(): void {
  const health = trust === 'lost' ? undefined : rover.health;
  const ranges = (health === undefined ? [] : (rover.clearance?.nearestM ?? [])).filter(Number.isFinite);
  list('senses', [
    ['Spin', figure(health?.spinHz, 1, 'Hz')],
    ['Echoes', figure(health?.echoesPerS, 0, '/s')],
    ['Valid', figure(100 * (health?.validShare ?? Number.NaN), 1, '%')],
    ['Skipped', figure(health?.skippedBytes, 0, 'bytes')],
    ['Nearest echo', figure(ranges.length > 0 ? Math.min(...ranges) : Number.NaN, 2, 'm')],
    ['Data age', figure(health && rover.age < 10 ? rover.age * 1000 : Number.NaN, 0, 'ms')],
  ]);
  showFindings(health);
}

function showFindings(health: Health | undefined): void {
  const findings = health?.findings ?? [];
  say(
    'findings-count',
    health === undefined ? 'unknown while unconnected' : findings.length === 0 ? 'none' : String(findings.length),
  );
  const box = part('findings', HTMLElement);
  const key = findings.map(findingSentence).join();
  if (box.dataset.key === key) return;
  box.dataset.key = key;
  box.replaceChildren(
    ...findings.map(({ code, what, remedy }) => {
      const item = made(
        'li',
        made('b', `${sentence(what)}.`),
        made('p', made('b', 'Do: '), remedy),
        made('code', code),
      );
      item.className = 'finding';
      return item;
    }),
  );
}

function list(id: string, rows: ReadonlyArray<readonly [string, string]>): void {
  const box = part(id, HTMLDListElement);
  if (box.childElementCount !== 2 * rows.length) {
    box.replaceChildren(...rows.flatMap(([name]) => [made('dt', name), made('dd')]));
  }
  for (const [i, [, text]] of rows.entries()) {
    const cell = box.children[2 * i + 1];
    if (cell.textContent !== text) cell.textContent = text;
  }
}

function figure(value: number | undefined, digits: number, unit: string): string {
  return value === undefined || Number.isNaN(value) ? `– ${unit}` : `${value.toFixed(digits)} ${unit}`;
}

part('token', HTMLFormElement).addEventListener('submit', (event) => {
  event.preventDefault();
  const token = part('token-text', HTMLInputElement).value.trim();
  sessionStorage.setItem(TOKEN, token);
  refusal = undefined;
  rover.close();
  rover = open(token);
});
part('retry', HTMLButtonElement).addEventListener('click', () => rover.retryNow());
addEventListener('resize', () => {
  isNews = true;
});
frame();
