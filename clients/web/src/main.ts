import { type Clearance, connect, Feed, type Health, HealthState, SectorState } from '../../typescript/src/client.js';
import { Plan } from './plan.js';

const LOST = 0.5; // s without any Clearance
const TALK = 2; // s, least between two changes of what a screen reader is told

function part<T extends Element>(id: string, kind: new () => T): T {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new TypeError(`no ${id}`);
  return found;
}

const trust = part('trust', HTMLElement);
const note = part('note', HTMLElement);
const plan = new Plan(part('plan', SVGSVGElement));
const token = new URLSearchParams(location.hash.slice(1)).get('token');
const rover = connect(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/v1/feeds`, {
  wants: [{ feed: Feed.FEED_CLEARANCE }, { feed: Feed.FEED_HEALTH }],
  ...(token === null ? {} : { token }),
});

let age = NaN; // s, of the newest Clearance when it was sent
let lostAt: Date | undefined = new Date();
let state = '';
let since = new Date();
let toldAt = -Infinity;
let isDrawn = true;

rover.on('hello', (hello) => {
  part('rover', HTMLElement).textContent = [hello.rover, hello.source === 'simulated' ? 'simulated rover' : '', `role ${hello.role}`].filter((text) => text !== '').join(', ');
  part('stop', HTMLElement).textContent = `stop distance ${(hello.stopM ?? 0).toFixed(2)} m at full speed`;
});
rover.on('clearance', (_clearance, envelope) => {
  age = (envelope.sentS ?? 0) - (envelope.timeS ?? 0);
  isDrawn = false;
});
rover.on('health', () => {
  isDrawn = false;
});
rover.on('connection', () => {
  isDrawn = false;
});

function stateOf(health: Health | undefined): 'lost' | 'blind' | 'degraded' | 'sound' {
  if (rover.silence > LOST || health === undefined) return 'lost';
  if (health.state === HealthState.HEALTH_STATE_OK) return 'sound';
  return health.state === HealthState.HEALTH_STATE_DEGRADED ? 'degraded' : 'blind'; // a state this page does not know is blind
}

const clockOf = (date: Date): string => date.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', second: '2-digit' });

function show(): void {
  requestAnimationFrame(show);
  const now = stateOf(rover.health);
  if (now !== state) {
    state = now;
    since = new Date();
    lostAt = now === 'lost' ? since : undefined;
    isDrawn = false;
    document.documentElement.dataset.trust = now;
  }
  tell();
  if (isDrawn) return;
  isDrawn = true;
  const clearance = now === 'lost' ? undefined : rover.clearance;
  const outline = (rover.hello?.outlineM ?? []).map(({ xM, yM }) => ({ x: xM ?? 0, y: yM ?? 0 }));
  plan.draw(outline, clearance);
  showScale();
  showAhead(clearance);
  showSenses(rover.health);
  showFindings(rover.health);
}

/** The line of trust: state first, since when, then facts by weight. */
function tell(): void {
  const unknown = (rover.clearance?.state ?? []).filter((each) => each !== SectorState.SECTOR_STATE_CLEAR && each !== SectorState.SECTOR_STATE_OBSTACLE).length;
  const sectors = rover.clearance?.state?.length ?? 0;
  const old = `data ${Math.round((age + rover.silence) * 1000)} ms old`;
  const facts: string[] = [];
  let head: string;
  if (state === 'lost') {
    head = lostAt === undefined || rover.hello === undefined ? 'No connection to the daemon' : `Connection lost at ${clockOf(lostAt)}`;
    facts.push('nothing here is newer', 'trying again');
  } else if (state === 'blind') {
    head = `Blind since ${clockOf(since)}`;
    facts.push('nothing is vouched for');
  } else {
    head = `Senses ${state} since ${clockOf(since)}`;
    if (unknown > 0) facts.push(`unknown on ${unknown} of ${sectors} bearings`);
    facts.push(old);
  }
  const line = `<b>${head}</b> · ${facts.join(' · ')}`;
  const finding = rover.health?.findings?.[0];
  const words = state === 'lost' ? 'No word from the daemon. Nothing is vouched for now, whatever may have moved since.' : state === 'blind' && finding !== undefined ? `${sentence(finding.what ?? '')} <b>Do:</b> ${escape(finding.remedy ?? '')}` : '';
  if (note.innerHTML !== words) note.innerHTML = words;
  note.hidden = words === '';
  const seconds = performance.now() / 1000;
  if (trust.dataset.head === head && seconds - toldAt < TALK) return; // a change of state is told at once, figures now and then
  trust.dataset.head = head;
  toldAt = seconds;
  trust.innerHTML = line;
}

function showScale(): void {
  const perPixel = plan.metresPerPixel;
  const metres = [0.5, 1, 2, 5].find((length) => length / perPixel > 60) ?? 10;
  const bar = document.querySelector('#scale svg');
  const width = metres / perPixel;
  bar?.setAttribute('width', String(width));
  if (bar !== null) bar.innerHTML = `<rect y="3" width="${width}" height="4"/><rect width="1" height="10"/><rect x="${width - 1}" width="1" height="10"/>`;
  const figure = document.querySelector('#scale b');
  if (figure !== null) figure.textContent = `${metres} m`;
}

function showAhead(clearance: Clearance | undefined): void {
  const ahead = clearance?.aheadM ?? 0;
  const gauge = part('ahead', HTMLOutputElement);
  gauge.textContent = clearance === undefined ? '–' : ahead.toFixed(2);
  gauge.parentElement?.classList.toggle('short', ahead < (rover.hello?.stopM ?? 0));
  const names = ['ahead', 'ahead left', 'left', 'behind left', 'behind', 'behind right', 'right', 'ahead right'];
  if (performance.now() / 1000 - toldAt > 0.1) return; // with the line of trust, not oftener
  part('directions', HTMLUListElement).innerHTML = names
    .map((name, i) => `<li>${name}: ${rover.leewayTowards((i * Math.PI) / 4) > 0 ? `${rover.leewayTowards((i * Math.PI) / 4).toFixed(1)} m` : 'nothing vouched for'}</li>`)
    .join('');
}

function showSenses(health: Health | undefined): void {
  const isLost = state === 'lost';
  const figure = (value: number | null | undefined, digits: number, unit: string): string =>
    isLost || value === undefined || value === null || Number.isNaN(value) ? '–' : `${value.toFixed(digits)} ${unit}`;
  const nearest = (rover.clearance?.nearestM ?? []).filter((range) => range > 0 && range < Infinity);
  const rows: Array<[string, string]> = [
    ['Spin', figure(health?.spinHz, 2, 'Hz')],
    ['Echoes', figure(health?.echoesPerS, 0, '/s')],
    ['Valid', figure((health?.validShare ?? NaN) * 100, 1, '%')],
    ['Skipped', figure(health?.skippedBytes, 0, 'bytes')],
    ['Nearest', figure(nearest.length > 0 ? Math.min(...nearest) : NaN, 2, 'm')],
  ];
  part('senses', HTMLDListElement).innerHTML = rows.map(([name, value]) => `<dt>${name}</dt><dd>${value}</dd>`).join('');
}

function showFindings(health: Health | undefined): void {
  const findings = health?.findings ?? [];
  const made =
    findings.length === 0
      ? `<p>none${state === 'sound' ? ` since ${clockOf(since)}` : ''}</p>`
      : findings.map(({ code, what, remedy }) => `<div class="finding"><p>${sentence(what ?? '')} <b>Do:</b> ${escape(remedy ?? '')}</p><code>${escape(code ?? '')}</code></div>`).join('');
  const box = part('findings', HTMLElement);
  if (box.innerHTML !== made) box.innerHTML = made;
}

function sentence(text: string): string {
  return `${escape(text.charAt(0).toUpperCase() + text.slice(1))}.`;
}

function escape(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

show();
