import { type Desk, keepDesk, openDesk } from './desk.js';
import { part, rem, say, show } from './dom.js';
import { Handwork } from './handwork.js';
import { Ahead } from './instruments/ahead.js';
import { showFindings } from './instruments/findings.js';
import { drawNoise, drawSweep } from './instruments/graphs.js';
import { Senses } from './instruments/senses.js';
import { drawStrip } from './instruments/strip.js';
import { actOf, writeHelp } from './keys.js';
import type { Noise } from './measure/deviation.js';
import { Marks } from './measure/marks.js';
import { Residuals } from './measure/residuals.js';
import { wallAt } from './measure/snap.js';
import { speak, unask, writeLine, writeNote, writeScale } from './screen.js';
import { Session } from './session.js';
import { Plan, type Showing } from './sheet/plan.js';
import { writeTwin } from './twin.js';
import { clockTime, degrees, roundLength } from './units.js';
import { lineOfTrust, noteOf, spoken, type View } from './words.js';

const FIGURES_EVERY = 0.25; // s: figures that change oftener cannot be read
const GRAPHS_EVERY = 0.2;
const STRIP_EVERY = 1;
const STRIP_SPAN = 600;

const root = document.documentElement;
const desk: Desk = openDesk();
const session = new Session(__VERSION__);
const plan = new Plan(part('plan-base', HTMLCanvasElement), part('plan-live', HTMLCanvasElement));
const marks = new Marks();
const hand = new Handwork(part('plan', HTMLElement), plan, desk, marks, () => session.model);
const ahead = new Ahead();
const senses = new Senses();
const residuals = new Residuals();
const noise: Noise = (range) => Math.hypot(0.01, 0.001 * range * range);
const showing: Showing = {
  isPast: true,
  ...{ echoes: true, figures: true, path: true, trailDots: 11, masks: [], draft: undefined, cross: undefined, findings: [], noise },
};
let lastFrame = 0;
let figuresAt = -Infinity;
let graphsAt = -Infinity;
let stripAt = -Infinity;
let isFitted = false;
let isOwed = true;
let residualsOf = 0;

void unask;
void actOf;
void keepDesk;
void writeHelp;
hand.onChange = () => {
  isOwed = true;
};
session.onShapes = () => {
  marks.update(session.model, noise, session.time);
  const pin = marks.pins.findLast(({ spot, isSeen }) => spot.hold === 'wall' && isSeen);
  if (pin === undefined) return;
  if (pin.number !== residualsOf) residuals.clear();
  residualsOf = pin.number;
  const wall = wallAt(session.model, pin.spot);
  if (wall !== undefined) residuals.add(session.model, wall);
};

function frame(millis: number): void {
  requestAnimationFrame(frame);
  const now = millis / 1000;
  const elapsed = Math.min(0.1, now - lastFrame);
  lastFrame = now;
  if (session.judge()) {
    root.dataset.trust = session.trust;
    plan.refresh();
    ahead.refresh();
    figuresAt = graphsAt = stripAt = -Infinity;
  }
  const begun = performance.now();
  if (now - figuresAt >= FIGURES_EVERY) {
    figuresAt = now;
    writeWords(now);
  }
  if (now - stripAt >= STRIP_EVERY) {
    stripAt = now;
    strip();
  }
  if (now - graphsAt >= GRAPHS_EVERY) {
    graphsAt = now;
    graphs();
  }
  if (!session.isNews && !isOwed) return;
  session.isNews = false;
  draw(now, elapsed);
  performance.measure('leeway frame', { start: begun, end: performance.now() });
}

function draw(now: number, elapsed: number): void {
  const { model, trust } = session;
  const isPast = trust === 'lost' || trust === 'blind';
  if (!isFitted && !isPast && model.edge.length > 0) {
    isFitted = true;
    plan.view.up = desk.up ?? (innerWidth < 700 ? 'cart' : 'plan');
    plan.fit(model);
    performance.mark('leeway first plan');
  } else if (!isPast) plan.view.follow(model.pose);
  Object.assign(showing, { isPast, echoes: desk.echoes, figures: desk.figures, path: desk.path });
  showing.cross = hand.cross;
  showing.draft = hand.draft;
  showing.findings = isPast ? [] : (model.health?.findings ?? []);
  isOwed = plan.draw(model, marks, showing, now, elapsed);
}

function viewNow(): View {
  const { rover, model } = session;
  const state = model.clearance?.state ?? [];
  return {
    ...{ trust: session.trust, since: session.since, isWatched: session.isWatched, wasHeard: session.wasHeard },
    ...{ health: model.health, age: rover.age, retryIn: rover.retryIn, tries: session.tries },
    ...{ refusal: session.refusal, older: session.older, restarted: session.restarted },
    ...{ unknown: state.filter((each) => each === 'unknown').length, sectors: state.length },
    source: model.hello?.source ?? '',
  };
}

function writeWords(now: number): void {
  const view = viewNow();
  const { model, trust } = session;
  const isPast = trust === 'lost' || trust === 'blind';
  writeLine(lineOfTrust(view));
  speak(spoken(view), isPast, now);
  say('tense-word', trust === 'lost' ? 'NOT LIVE' : 'LIVE');
  say('tense-time', trust === 'lost' ? '' : clockTime(session.time));
  const tries = session.tries > 0 && trust === 'lost' ? `${session.tries} ${session.tries === 1 ? 'try' : 'tries'} so far` : '';
  writeNote(noteOf(view, Date.now() / 1000), tries, trust === 'lost' && session.refusal?.code !== 'TOKEN_WRONG');
  const { hello } = model;
  if (hello !== undefined) {
    say('who-rover', hello.rover);
    say('who-role', `${hello.source === 'simulated' ? 'simulated, ' : ''}role ${hello.role}`);
  }
  const isVouched = !isPast && model.ahead > 0;
  const stop = hello?.stopM ?? 0;
  ahead.tell(model.ahead, stop, isVouched, isVouched ? (model.ahead < stop ? 'below stop distance' : 'vouched free') : 'not vouched for');
  const latency = model.clearanceStamps === undefined ? Number.NaN : model.clearanceStamps.sentS - model.clearanceStamps.timeS;
  senses.tell(model.health, latency, trust !== 'lost', session.time, `last told ${clockTime(session.since)}`);
  const findings = trust === 'lost' ? [] : (model.health?.findings ?? []);
  const word = trust === 'lost' ? 'unknown while unconnected' : `none since ${clockTime(session.since)}`;
  showFindings(findings, word, trust !== 'lost');
  writeBlock(isPast);
  writeTwin(model, isPast, (bearing) => session.rover.leewayTowards(bearing));
}

function writeBlock(isPast: boolean): void {
  const { model } = session;
  const { pose } = model;
  const up = plan.view.up === 'cart' ? 'cart up' : 'plan up';
  say('drawing', isPast ? `last seen ${clockTime(session.since)}` : `live, ${up}`);
  const minus = (text: string): string => text.replace('-', '−');
  say(
    'place',
    model.motion === undefined ? '–' : minus(`${roundLength(pose.x)}, ${roundLength(pose.y)} · ${degrees(pose.heading)}`),
  );
  say('driven', `${roundLength(model.driven)}`);
  writeScale(plan.view.pxPerM, (innerWidth < 700 ? 60 : 105) * rem());
  const block = part('block', HTMLElement);
  plan.labels.blockLeft = block.offsetLeft;
  plan.labels.blockTop = block.offsetTop;
  plan.view.bottom = block.offsetHeight;
}

function graphs(): void {
  const { model, trust } = session;
  drawSweep(trust === 'lost' || trust === 'blind' ? undefined : model.sweep);
  const pin = marks.pins.findLast(({ spot }) => spot.hold === 'wall');
  const wall = pin === undefined ? undefined : wallAt(model, pin.spot);
  drawNoise(pin === undefined ? undefined : residuals, pin?.number ?? 0, wall?.distanceM ?? 2, noise);
  ahead.draw(session.history, session.time, performance.now() / 1000);
}

function strip(): void {
  const now = session.time;
  let most = 2;
  session.history.since(now - STRIP_SPAN, (_time, length) => {
    if (length > most) most = length;
  });
  drawStrip({
    ...{ from: now - STRIP_SPAN, to: now, most: 1.15 * most, stop: session.model.hello?.stopM ?? 0, hand: Number.NaN },
    ...{ happenings: session.history.happenings, last: 'now' },
    tick: (time) => clockTime(time).slice(0, 5),
    curve: (take) => session.history.since(now - STRIP_SPAN, take),
  });
}

addEventListener('resize', () => {
  plan.refresh();
  ahead.refresh();
  isOwed = true;
});
show('door', false);
requestAnimationFrame(frame);
