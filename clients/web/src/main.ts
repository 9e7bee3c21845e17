import { bar, listen, openTab, showDesk, toggleHelp } from './commands.js';
import { Controls } from './controls.js';
import { openDesk, type Tool } from './desk.js';
import { part } from './dom.js';
import { openDoor } from './door.js';
import { Handwork } from './handwork.js';
import { Marks } from './measure/marks.js';
import { RunDesk } from './runDesk.js';
import { ask, tell, unask } from './screen.js';
import { Session } from './session.js';
import { SettingsPanel } from './settingsPanel.js';
import type { Mask } from './sheet/ground.js';
import { Plan } from './sheet/plan.js';
import { Stage } from './stage.js';
import { degrees, lengthUnit, roundLength } from './units.js';

const TENTHS = [1, 2, 3, 4, 5, 6, 7, 8, 9] as const; // keys that go to tenths of a run
const BARS_EVERY = 0.5; // s

const desk = openDesk();
const session = new Session(__VERSION__);
const plan = new Plan(part('plan-base', HTMLCanvasElement), part('plan-live', HTMLCanvasElement));
const marks = new Marks();
const controls = new Controls((path, init) => session.ask(path, init));
const hand: Handwork = new Handwork(part('plan', HTMLElement), plan, desk, marks, () => stage.model);
const stage = new Stage({ session, desk, plan, marks, hand, controls });
const runs = new RunDesk({ session, stage, marks, hand });
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
  const barred = session.barredBy('admin');
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

/** Esc takes back the last thing opened: question, help, settings, runs, what is half drawn, the tool, the replay. */
function goBack(): void {
  if (unask()) return;
  if (part('help', HTMLDialogElement).open) toggleHelp();
  else if (settingsPanel.isOpen) openSettings(false);
  else if (runs.isOpen) runs.open(false);
  else if (hand.drop()) return;
  else if (desk.tool !== 'move') take('move');
  else runs.leave();
}

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
    mark: () => runs.mark(),
    record: () => runs.record(),
    runs: () => runs.open(!runs.isOpen),
    live: () => runs.leave(),
    escape: goBack,
    play: () => stage.replay?.toggle(),
    'step-back': () => stage.replay?.step(-1),
    'step-on': () => stage.replay?.step(1),
    'event-before': () => runs.event(false),
    'event-next': () => runs.event(true),
    start: () => runs.share(0),
    end: () => runs.share(1),
    speed: () => stage.replay?.faster(1, true),
    slower: () => stage.replay?.faster(-1),
    faster: () => stage.replay?.faster(1),
    ...Object.fromEntries(TENTHS.map((tenth) => [`tenth-${tenth}`, () => runs.share(tenth / 10)])),
  },
  () => stage.replay !== undefined,
);

for (const button of document.querySelectorAll<HTMLElement>('.tabs [data-tab]'))
  button.addEventListener('click', () => {
    const tab = button.dataset.tab ?? 'plan';
    if (settingsPanel.isOpen !== (tab === 'more')) openSettings(tab === 'more');
    if (runs.isOpen !== (tab === 'runs')) runs.open(tab === 'runs');
    openTab(tab);
    stage.refresh();
  });

hand.onChange = () => stage.owe();
hand.onMask = askMask;
hand.onPinned = () => {
  marks.update(stage.model, stage.noise, stage.time);
  stage.owe();
};
controls.onChange = () => {
  const { settings } = controls;
  if (settings !== undefined) stage.model.mounting = session.model.mounting = settings.mount;
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
  if (what !== 'state') runs.hurry();
};
session.onRestart = () => {
  if (marks.clear()) tell('Pins and tape are gone: the daemon began anew.', clock());
};

function bars(): void {
  const lost = session.trust === 'lost' ? 'not connected' : undefined;
  bar('mark', lost ?? session.barredBy('drive'));
  bar('record', lost ?? session.barredBy('drive'));
  bar('mask', stage.replay === undefined ? session.barredBy('admin') : 'only while live');
}

let barsAt = -Infinity;
function frame(millis: number): void {
  requestAnimationFrame(frame);
  const now = millis / 1000;
  if (session.trust !== 'lost') controls.look(now);
  runs.tick(now);
  if (now - barsAt > BARS_EVERY) {
    barsAt = now;
    bars();
    runs.tellPlace();
    settingsPanel.tell(unknownNow());
  }
  stage.frame(now);
}

addEventListener('resize', () => stage.refresh());
for (const query of ['(prefers-reduced-motion: reduce)', '(prefers-contrast: more)', '(forced-colors: active)'])
  matchMedia(query).addEventListener('change', () => stage.refresh());
new ResizeObserver(() => stage.refresh()).observe(part('plan', HTMLElement));
openDoor(session, __VERSION__);
stage.refresh();
redesk();
requestAnimationFrame(frame);
