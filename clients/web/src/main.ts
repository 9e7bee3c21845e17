import { bar, listen, openTab, showDesk, toggleHelp } from './commands.js';
import { Controls } from './controls.js';
import { openDesk, type Tool } from './desk.js';
import { part, show } from './dom.js';
import { openDoor } from './door.js';
import { Handwork } from './handwork.js';
import { Marks } from './measure/marks.js';
import { Replay, type RunRow } from './replay.js';
import { RunsPanel } from './runsPanel.js';
import { ask, tell, unask } from './screen.js';
import { Session } from './session.js';
import { SettingsPanel } from './settingsPanel.js';
import type { Mask } from './sheet/ground.js';
import { Plan } from './sheet/plan.js';
import { Stage } from './stage.js';
import { degrees, lengthUnit, roundLength } from './units.js';

const RUNS_EVERY = 5; // s between looks at the list of runs while it is open

const desk = openDesk();
const session = new Session(__VERSION__);
const plan = new Plan(part('plan-base', HTMLCanvasElement), part('plan-live', HTMLCanvasElement));
const marks = new Marks();
const controls = new Controls(askDaemon);
const hand: Handwork = new Handwork(part('plan', HTMLElement), plan, desk, marks, () => stage.model);
const stage = new Stage({ session, desk, plan, marks, hand, controls });
const runsPanel = new RunsPanel({
  play: (run) => play(run),
  rename: (run) =>
    ask({ text: 'Name of this run', yes: 'Rename', field: run.title, act: (title) => keep(run, { title }) }),
  pin: (run) => keep(run, { pinned: !run.pinned }),
  remove: (run) =>
    ask({
      text: `Delete “${run.title || run.name}” for good?${run.pinned ? ' It is pinned.' : ''}`,
      yes: 'Delete it',
      act: () => keep(run, { remove: true }),
    }),
  close: () => openRuns(false),
  barred: (isRemoving) => barredBy(isRemoving ? 'admin' : 'drive'),
});
const settingsPanel = new SettingsPanel(desk, controls, {
  close: () => openSettings(false),
  changed: () => {
    if (desk.up !== undefined && desk.up !== plan.view.up) turn();
    redesk();
    refillSettings();
  },
  clear: askClear,
  isCartUp: () => plan.view.up === 'cart',
  drawMask: () => {
    if (innerWidth < 700) openTab('plan');
    take('mask');
  },
});
let runsAt = -Infinity;

/** Asks the daemon over HTTP. @throws {Error} with what it says where it refuses. */
async function askDaemon(path: string, init: RequestInit = {}): Promise<unknown> {
  const headers = new Headers(init.headers);
  if (session.token !== undefined) headers.set('authorization', `Bearer ${session.token}`);
  const answer = await fetch(path, { ...init, headers });
  const told: unknown = await answer.json().catch(() => undefined);
  if (answer.ok) return told;
  const what =
    typeof told === 'object' && told !== null && 'what' in told ? String(told.what) : `HTTP ${answer.status}`;
  const remedy = typeof told === 'object' && told !== null && 'remedy' in told ? ` ${String(told.remedy)}` : '';
  throw new Error(`${what}.${remedy}`);
}

function barredBy(needed: 'drive' | 'admin'): string | undefined {
  if (session.trust === 'lost') return 'not connected';
  const role = session.model.hello?.role ?? 'watch';
  const isEnough = role === 'admin' || role === needed;
  return isEnough ? undefined : `needs role ${needed}`;
}

function clock(): number {
  return performance.now() / 1000;
}

function take(tool: Tool): void {
  hand.drop();
  desk.tool = tool;
  redesk();
  if (tool !== 'move') part('plan', HTMLElement).focus();
}

function redesk(): void {
  showDesk(desk, plan.view.up);
  plan.labels.hurry();
  stage.owe();
}

function toggle(layer: 'echoes' | 'figures' | 'path'): void {
  desk[layer] = !desk[layer];
  redesk();
}

function turn(): void {
  plan.view.settle();
  plan.view.up = plan.view.up === 'cart' ? 'plan' : 'cart';
  desk.up = plan.view.up;
  hand.hasMoved = false;
  plan.fit(stage.model);
  redesk();
}

function zoom(steps: number): void {
  const { view } = plan;
  hand.hasMoved = true;
  view.settle();
  view.zoom(steps, view.middleX, view.middleY, stage.model.pose, plan.rem);
  plan.labels.hurry();
  stage.owe();
}

function openSettings(isOpen: boolean): void {
  controls.hurry();
  settingsPanel.open(isOpen, session.model.hello?.role ?? 'watch', unknownNow());
  if (innerWidth < 700) openTab(isOpen ? 'more' : 'plan');
}

function refillSettings(): void {
  if (settingsPanel.isOpen) settingsPanel.fill(session.model.hello?.role ?? 'watch', unknownNow());
}

function unknownNow(): string {
  const { state = [] } = session.model.clearance ?? {};
  return `${state.filter((each) => each === 'unknown').length} of ${state.length} bearings unknown`;
}

/** `clear` is a trade: it is asked once, in words. */
function askClear(reach: number): void {
  ask({
    text: `Let every beam that comes back empty vouch for ${roundLength(reach)} ${lengthUnit()}? A pane of glass met at a slant sends nothing back either, and would count as clear. Now ${unknownNow()}.`,
    yes: 'Let them vouch',
    act: () => controls.change({ noReturn: 'clear', noReturnM: reach }),
    drop: refillSettings,
  });
}

function askMask(mask: Mask): void {
  const barred = barredBy('admin');
  if (barred !== undefined || controls.settings === undefined) {
    hand.drop();
    tell(`A mask ${barred ?? 'is not to be had from this daemon'}.`, clock());
    return;
  }
  const inside = echoesIn(mask);
  const kept = controls.settings.file === null ? 'until the daemon stops' : `in ${controls.settings.file}`;
  ask({
    text: `Mask ${degrees(mask.fromRad)} to ${degrees(mask.toRad)}, up to ${roundLength(mask.upToM)} ${lengthUnit()}: ${inside} echoes of the last sweep fall in it. Echoes there count as the rover’s own body, ${kept}.`,
    yes: 'Keep the mask',
    act: () => {
      hand.drop();
      controls.change({ masks: [...(controls.settings?.masks ?? []), mask] });
    },
    drop: () => hand.drop(),
  });
}

function echoesIn({ fromRad, toRad, upToM }: Mask): number {
  const { bearingRad = [], rangeMm = [] } = session.model.sweep ?? {};
  const full = 2 * Math.PI;
  const width = (((toRad - fromRad) % full) + full) % full;
  let count = 0;
  for (let i = 0; i < bearingRad.length; i++) {
    const turned = (((bearingRad[i] - fromRad) % full) + full) % full;
    if (rangeMm[i] > 0 && rangeMm[i] <= upToM * 1000 && turned <= width) count++;
  }
  return count;
}

function openRuns(isOpen: boolean): void {
  runsAt = -Infinity;
  runsPanel.open(isOpen);
  if (innerWidth < 700) openTab(isOpen ? 'runs' : 'plan');
}

async function lookAtRuns(): Promise<void> {
  runsAt = clock();
  const playing = stage.replay?.name ?? '';
  try {
    const told = (await askDaemon('/v1/runs')) as { runs: readonly RunRow[] };
    runsPanel.fill(told.runs, '', playing);
  } catch (error) {
    runsPanel.fill([], error instanceof Error ? error.message : String(error), playing);
  }
}

function keep(run: RunRow, wish: { pinned?: boolean; title?: string; remove?: boolean }): void {
  session.rover.send({ keep: { run: run.name, ...wish } });
  setTimeout(() => void lookAtRuns(), 150);
}

function play(run: RunRow, at?: number): void {
  leaveReplay();
  const replay = new Replay(run.name, session.token, askDaemon, at);
  replay.onShapes = () => stage.onShapes();
  stage.replay = replay;
  marks.clear();
  hand.hasMoved = false;
  openRuns(false);
  showReplay(true);
  part('plan', HTMLElement).focus();
}

function leaveReplay(): void {
  if (stage.replay === undefined) return;
  stage.replay.close();
  stage.replay = undefined;
  marks.clear();
  hand.hasMoved = false;
  showReplay(false);
}

function showReplay(isReplay: boolean): void {
  show('transport', isReplay);
  show('back-to-live', isReplay);
  show('mark', !isReplay);
  show('record', !isReplay);
  show('inst-event', isReplay);
  for (const lead of document.querySelectorAll<HTMLElement>('.time-lead')) lead.hidden = isReplay;
  const strip = part('strip', HTMLElement);
  if (isReplay) {
    strip.tabIndex = 0;
    strip.setAttribute('role', 'slider');
    strip.setAttribute('aria-label', 'Time in the run');
  } else
    for (const name of [
      'tabindex',
      'role',
      'aria-label',
      'aria-valuenow',
      'aria-valuemin',
      'aria-valuemax',
      'aria-valuetext',
    ])
      strip.removeAttribute(name);
  stage.refit();
}

function mark(): void {
  const isRecording = session.run?.state === 'recording';
  ask({
    text: isRecording
      ? 'A note for this moment, kept in the run'
      : 'A note for this moment. Nothing is recorded: it stands on this page only.',
    yes: 'Mark',
    field: '',
    act: (text) => {
      if (isRecording) session.rover.send({ mark: { text } });
      else session.history.note({ at: session.time, kind: 'mark', what: text || 'Mark' });
      stage.hurryStrip();
    },
  });
}

function record(): void {
  if (session.run?.state === 'recording') session.rover.send({ record: { on: false } });
  else
    ask({
      text: 'Name of the run, if it shall have one',
      yes: 'Record',
      field: '',
      act: (title) => session.rover.send({ record: { on: true, title } }),
    });
}

/** Esc takes back the last thing opened: question, help, settings, runs, what is half drawn, the tool, the replay. */
function goBack(): void {
  if (unask()) return;
  if (part('help', HTMLDialogElement).open) toggleHelp();
  else if (settingsPanel.isOpen) openSettings(false);
  else if (runsPanel.isOpen) openRuns(false);
  else if (hand.drop()) return;
  else if (desk.tool !== 'move') take('move');
  else leaveReplay();
}

function event(isNext: boolean): void {
  const found = stage.replay?.event(stage.replay.at, isNext);
  if (found !== undefined) seek(found.happening.at);
}

function seek(time: number): void {
  stage.replay?.seek(time);
  stage.hurryStrip();
}

const tenths = Object.fromEntries(
  Array.from({ length: 9 }, (_, i) => [
    `tenth-${i + 1}`,
    () => {
      const { replay } = stage;
      if (replay !== undefined) seek(replay.from + ((i + 1) / 10) * (replay.to - replay.from));
    },
  ]),
);

listen(
  desk,
  {
    move: () => take('move'),
    tape: () => take('tape'),
    pin: () => take('pin'),
    mask: () => take('mask'),
    echoes: () => toggle('echoes'),
    figures: () => toggle('figures'),
    path: () => toggle('path'),
    up: turn,
    fit: () => {
      hand.hasMoved = false;
      plan.view.settle();
      plan.fit(stage.model);
      stage.owe();
    },
    in: () => zoom(1),
    out: () => zoom(-1),
    settings: () => openSettings(!settingsPanel.isOpen),
    help: toggleHelp,
    units: () => {
      desk.units = desk.units === 'metric' ? 'imperial' : 'metric';
      redesk();
      refillSettings();
      stage.refresh();
    },
    undo: () => controls.undo(),
    redo: () => controls.redo(),
    retry: () => session.rover.retryNow(),
    mark,
    record,
    runs: () => openRuns(!runsPanel.isOpen),
    live: leaveReplay,
    escape: goBack,
    play: () => stage.replay?.toggle(),
    'step-back': () => stage.replay?.step(-1),
    'step-on': () => stage.replay?.step(1),
    'event-before': () => event(false),
    'event-next': () => event(true),
    start: () => stage.replay && seek(stage.replay.from),
    end: () => stage.replay && seek(stage.replay.to),
    speed: () => stage.replay?.faster(1, true),
    slower: () => stage.replay?.faster(-1),
    faster: () => stage.replay?.faster(1),
    ...tenths,
  },
  () => stage.replay !== undefined,
);

for (const button of document.querySelectorAll<HTMLElement>('.tabs [data-tab]'))
  button.addEventListener('click', () => {
    const tab = button.dataset.tab ?? 'plan';
    if (settingsPanel.isOpen !== (tab === 'more')) openSettings(tab === 'more');
    if (runsPanel.isOpen !== (tab === 'runs')) openRuns(tab === 'runs');
    openTab(tab);
    stage.refresh();
  });

const strip = part('strip', HTMLElement);
function scrub(pointer: PointerEvent): void {
  const { replay } = stage;
  if (replay === undefined || (pointer.type === 'pointermove' && pointer.buttons !== 1)) return;
  const { left, width } = strip.getBoundingClientRect();
  seek(replay.from + ((pointer.clientX - left) / width) * (replay.to - replay.from));
}
strip.addEventListener('pointerdown', (pointer) => {
  strip.setPointerCapture(pointer.pointerId);
  scrub(pointer);
});
strip.addEventListener('pointermove', scrub);
strip.addEventListener('keydown', (key) => {
  const step = { ArrowLeft: -1, ArrowRight: 1, PageDown: -30, PageUp: 30 }[key.key];
  if (step === undefined || stage.replay === undefined) return;
  key.preventDefault();
  seek(stage.replay.at + step);
});

hand.onChange = () => stage.owe();
hand.onMask = askMask;
hand.onPinned = () => {
  marks.update(stage.model, stage.noise, stage.time);
  stage.owe();
};
controls.onChange = () => {
  const { settings } = controls;
  if (settings !== undefined) session.model.mounting = settings.mount;
  if (controls.fault !== '') tell(`Not changed: ${controls.fault}`, clock());
  refillSettings();
  stage.owe();
};
session.onHello = () => controls.hurry();
session.onShapes = () => {
  if (stage.replay === undefined) stage.onShapes();
};
session.onRun = ({ what, text }) => {
  if (what === 'refused') tell(`Not done: ${text}`, clock());
  if (what !== 'state') runsAt = -Infinity;
};
session.onRestart = () => {
  if (marks.clear()) tell('Pins and tape are gone: the daemon began anew, and they cannot be found again.', clock());
};

function bars(): void {
  const lost = session.trust === 'lost' ? 'not connected' : undefined;
  bar('mark', lost ?? barredBy('drive'));
  bar('record', lost ?? barredBy('drive'));
  bar('mask', stage.replay === undefined ? barredBy('admin') : 'only while live');
}

let barsAt = -Infinity;
function frame(millis: number): void {
  requestAnimationFrame(frame);
  const now = millis / 1000;
  if (session.trust !== 'lost') {
    controls.look(now);
    if (runsPanel.isOpen && now - runsAt > RUNS_EVERY) void lookAtRuns();
  }
  if (now - barsAt > 0.5) {
    barsAt = now;
    bars();
    sliderValue();
    settingsPanel.tell(unknownNow());
  }
  stage.frame(now);
}

function sliderValue(): void {
  const { replay } = stage;
  if (replay === undefined) return;
  strip.setAttribute('aria-valuemin', '0');
  strip.setAttribute('aria-valuemax', String(Math.round(replay.to - replay.from)));
  strip.setAttribute('aria-valuenow', String(Math.round(replay.at - replay.from)));
  const [minutes, seconds] = [Math.floor((replay.at - replay.from) / 60), Math.floor((replay.at - replay.from) % 60)];
  strip.setAttribute('aria-valuetext', `${minutes} min ${seconds} s`);
}

// a hidden tab costs the daemon nothing: a run is left where it is, and gone on with when somebody looks
let hiddenAt: { run: RunRow; at: number } | undefined;
document.addEventListener('visibilitychange', () => {
  const { replay } = stage;
  if (document.hidden && replay?.row !== undefined) {
    hiddenAt = { run: replay.row, at: replay.at };
    replay.close();
  } else if (!document.hidden && hiddenAt !== undefined) {
    const { run, at } = hiddenAt;
    hiddenAt = undefined;
    play(run, at);
  }
});
addEventListener('resize', () => stage.refresh());
for (const query of ['(prefers-reduced-motion: reduce)', '(prefers-contrast: more)', '(forced-colors: active)'])
  matchMedia(query).addEventListener('change', () => stage.refresh());
new ResizeObserver(() => stage.refresh()).observe(part('plan', HTMLElement));
openDoor(session, __VERSION__);
stage.refresh();
redesk();
requestAnimationFrame(frame);
