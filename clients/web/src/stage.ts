import { Column } from './column.js';
import type { Controls } from './controls.js';
import type { Desk } from './desk.js';
import { part, rem, say, show } from './dom.js';
import { watchDoor } from './door.js';
import { wrapAngle } from './geometry.js';
import type { Handwork } from './handwork.js';
import type { Noise } from './measure/deviation.js';
import type { Marks } from './measure/marks.js';
import type { Model } from './model.js';
import { Pace } from './pace.js';
import { nameOf, type Replay } from './replay.js';
import { sayRecording, whenOf } from './runsPanel.js';
import { fade, speak, writeLine, writeNote, writeScale } from './screen.js';
import type { Session } from './session.js';
import type { Plan, Showing } from './sheet/plan.js';
import { writeMarks, writeTwin } from './twin.js';
import { clockTime, degrees, lengthUnit, roundLength, stretch } from './units.js';
import { type Line, lineOfTrust, type Note, noteOf, spoken, type View } from './words.js';

const FIGURES_EVERY = 0.25; // s: figures that change oftener cannot be read
const GRAPHS_EVERY = 0.2;
const STRIP_EVERY = 1;
const TWIN_EVERY = 2;
const FITTED_AFTER = 1.5; // s: the first sweeps show too little to choose a scale by
const DEFAULT_NOISE = { constantM: 0.01, growthPerM: 0.001 };

/** What is on the page now, live or from a run: draws and says it, each part as often as it can be read. */
export class Stage {
  replay: Replay | undefined;
  readonly #session: Session;
  readonly #desk: Desk;
  readonly #plan: Plan;
  readonly #marks: Marks;
  readonly #hand: Handwork;
  readonly #controls: Controls;
  readonly #column: Column;
  readonly #pace = new Pace();
  readonly #root = document.documentElement;
  readonly #showing: Showing;
  readonly #isStill = matchMedia('(prefers-reduced-motion: reduce)');
  #lastFrame = 0;
  #figuresAt = -Infinity;
  #graphsAt = -Infinity;
  #stripAt = -Infinity;
  #twinAt = -Infinity;
  #firstAt = Infinity;
  #isFitted = false;
  #isOwed = true;

  constructor(parts: { session: Session; desk: Desk; plan: Plan; marks: Marks; hand: Handwork; controls: Controls }) {
    this.#session = parts.session;
    this.#desk = parts.desk;
    this.#plan = parts.plan;
    this.#marks = parts.marks;
    this.#hand = parts.hand;
    this.#controls = parts.controls;
    this.#column = new Column(parts.session, parts.marks, this.noise);
    this.#showing = {
      ...{ isPast: true, echoes: true, figures: true, path: true, trailDots: 11, masks: [] },
      ...{ draft: undefined, cross: undefined, findings: [], over: parts.hand.over, noise: this.noise },
    };
  }

  get model(): Model {
    return this.replay?.model ?? this.#session.model;
  }

  /** s, Unix time of what is shown. */
  get time(): number {
    return this.replay?.at ?? this.#session.time;
  }

  /** Whether nothing is known of the time shown: walls are only where they last stood. */
  get isPast(): boolean {
    if (this.replay !== undefined)
      return this.replay.model.health?.state === 'blind' || this.replay.model.clearance === undefined;
    return this.#session.trust === 'lost' || this.#session.trust === 'blind';
  }

  readonly noise: Noise = (range) => {
    const { constantM, growthPerM } = this.#controls.settings?.noise ?? DEFAULT_NOISE;
    return Math.hypot(constantM, growthPerM * range * range);
  };

  /** The next frame draws, whatever came. */
  owe(): void {
    this.#isOwed = true;
  }

  /** Screen, state or preferences have changed: everything is drawn anew. */
  refresh(): void {
    this.#plan.view.settleS = this.#isStill.matches ? 0 : 0.24;
    this.#plan.refresh();
    this.#column.refresh();
    this.#figuresAt = this.#graphsAt = this.#stripAt = this.#twinAt = -Infinity;
    this.#isOwed = true;
  }

  /** Another scene: the view is chosen anew. */
  refit(): void {
    this.#isFitted = false;
    this.#firstAt = Infinity;
    this.#column.forget();
    this.refresh();
  }

  /** A sweep is complete: what is pinned and taped follows it. */
  onShapes(): void {
    this.#marks.update(this.model, this.noise, this.time);
    this.#column.gather(this.model);
  }

  /** One frame. @param now s, of the page's own clock. */
  frame(now: number): void {
    const begun = performance.now();
    const elapsed = Math.min(0.1, now - this.#lastFrame);
    this.#lastFrame = now;
    const isChanged = this.#session.judge();
    const isAtDoor = !part('door', HTMLElement).hidden;
    const trust = isAtDoor ? 'door' : this.replay === undefined ? this.#session.trust : 'replay';
    if (isChanged || this.#root.dataset.trust !== trust) {
      this.#root.dataset.trust = trust;
      this.#root.dataset.time = this.replay === undefined ? 'live' : 'replay';
      this.refresh();
    }
    // one of the slower parts a frame, so that none of them makes it late
    if (now - this.#figuresAt >= FIGURES_EVERY) {
      this.#figuresAt = now;
      this.#writeWords(now);
    } else if (now - this.#stripAt >= STRIP_EVERY) {
      this.#stripAt = now;
      this.#column.drawStrip(this);
    } else if (now - this.#graphsAt >= GRAPHS_EVERY) {
      this.#graphsAt = now;
      this.#column.draw(this, now);
    } else if (now - this.#twinAt >= TWIN_EVERY) {
      this.#twinAt = now;
      writeTwin(this.model, this.isPast, (bearing) =>
        (this.replay?.rover ?? this.#session.rover).leewayTowards(bearing),
      );
    }
    const isNews = this.replay?.isNews ?? this.#session.isNews;
    if (isNews || this.#isOwed) this.#draw(now, elapsed);
    this.#pace.note(begun);
  }

  #draw(now: number, elapsed: number): void {
    this.#session.isNews = false;
    if (this.replay !== undefined) this.replay.isNews = false;
    const { model, isPast } = this;
    const showing = this.#showing;
    this.#chooseView(now);
    showing.isPast = isPast;
    showing.echoes = this.#desk.echoes;
    showing.figures = this.#desk.figures;
    showing.path = this.#desk.path;
    showing.trailDots = this.#isStill.matches ? 3 : 11;
    showing.masks = this.#controls.settings?.masks ?? NONE;
    showing.cross = this.#hand.cross;
    showing.draft = this.#hand.draft;
    showing.findings = isPast ? NONE : (model.health?.findings ?? NONE);
    this.#isOwed = this.#plan.draw(model, this.#marks, showing, now, elapsed);
    if (isPast || model.edge.length === 0 || this.#firstAt < Infinity) return;
    this.#firstAt = now;
    this.#pace.firstPlan = performance.now();
  }

  #chooseView(now: number): void {
    const { model } = this;
    const { view } = this.#plan;
    if (this.isPast || model.edge.length === 0) return;
    if (this.#firstAt === Infinity) {
      view.up = this.#desk.up ?? (innerWidth < 700 ? 'cart' : 'plan');
      this.#plan.fit(model);
    } else if (!this.#isFitted && now - this.#firstAt > FITTED_AFTER) {
      this.#isFitted = true;
      if (this.#hand.hasMoved) return;
      view.settle();
      this.#plan.fit(model);
    } else if (this.#mayFollow() && view.follow(model.pose)) this.#plan.labels.hurry();
  }

  /** Under a hand that measures or draws the sheet stays where it is, as long as the rover is on it. */
  #mayFollow(): boolean {
    if (this.#hand.isHolding) return false;
    if (this.#desk.tool === 'move') return true;
    const { view } = this.#plan;
    view.toScreen(this.model.pose.x, this.model.pose.y);
    return !view.isInside(view.sx, view.sy);
  }

  #view(): View {
    const session = this.#session;
    const { rover, model } = session;
    const state = model.clearance?.state ?? [];
    return {
      ...{ trust: session.trust, since: session.since, isWatched: session.isWatched, wasHeard: session.wasHeard },
      ...{ health: model.health, age: rover.age, retryIn: rover.retryIn, tries: session.tries },
      ...{ refusal: session.refusal, older: session.older, restarted: session.restartedLately },
      ...{ unknown: state.filter((each) => each === 'unknown').length, sectors: state.length },
      source: model.hello?.source ?? '',
    };
  }

  #writeWords(now: number): void {
    watchDoor(this.#session, now);
    fade(now);
    const { replay } = this;
    if (replay === undefined) this.#writeLive(now);
    else this.#writeReplay(replay, now);
    const { hello } = this.#session.model;
    if (hello !== undefined) {
      say('who-rover', hello.rover);
      say('who-role', `${hello.source === 'simulated' ? 'simulated, ' : ''}role ${hello.role}`);
    }
    this.#column.write(this);
    this.#writeBlock();
    writeMarks(this.#marks);
  }

  #writeLive(now: number): void {
    const view = this.#view();
    const { trust, run, time } = this.#session;
    const line = lineOfTrust(view);
    writeLine(line);
    speak(spoken(view), trust === 'lost' || trust === 'blind', now);
    say('tense-word', trust === 'lost' ? 'NOT LIVE' : 'LIVE');
    const gone = stretch(Date.now() / 1000 - view.since);
    say('tense-time', trust === 'lost' ? (view.wasHeard ? gone : '') : clockTime(time));
    const tries =
      trust === 'lost' && view.tries > 0 ? `${view.tries} ${view.tries === 1 ? 'try' : 'tries'} so far` : '';
    writeNote(noteOf(view, Date.now() / 1000), tries, trust === 'lost');
    document.title = `${line.head} · Leeway`;
    sayRecording(trust === 'lost' ? '' : (run?.state ?? 'idle'), run === undefined ? 0 : run.toS - run.fromS);
  }

  #writeReplay(replay: Replay, now: number): void {
    const { row, at, from, to } = replay;
    const title = row === undefined || row.title === '' ? replay.name : row.title;
    const state = replay.model.health?.state;
    const senses = state === undefined ? 'senses not known yet' : `senses were ${state === 'ok' ? 'sound' : state}`;
    const line: Line = {
      head: 'Replay',
      facts: [
        { text: `of “${title}”`, isLess: true },
        { text: `${whenOf(at).replace(/,.*/, '')}, ${clockTime(at)}` },
        { text: senses, isLess: true },
      ],
    };
    writeLine(line);
    speak(`Replay of ${title}. Not live.`, false, now);
    say('tense-word', 'REPLAY');
    say('tense-time', `${stretch(at - from)} of ${stretch(to - from)}`);
    document.title = `Replay of ${title} · Leeway`;
    writeNote(noteOfReplay(replay), '', false);
    part('play', HTMLElement).setAttribute('aria-pressed', String(replay.isPlaying));
    part('play', HTMLElement).setAttribute('aria-label', replay.isPlaying ? 'Pause' : 'Play');
    const pace = replay.pace === 0 ? 'max' : `${replay.pace}×`;
    say('speed', pace);
    part('speed', HTMLElement).setAttribute('aria-label', `${pace}, speed`);
    const next = replay.event(at, true);
    say(
      'event-count',
      next === undefined
        ? 'none any more'
        : `${next.number} of ${replay.happenings.length}, in ${stretch(next.happening.at - at)}`,
    );
    say('event-what', next === undefined ? '' : nameOf(next.happening.kind));
    say('event-text', next?.happening.what ?? '');
  }

  #writeBlock(): void {
    const { model, replay, isPast } = this;
    const { view, labels } = this.#plan;
    const up = view.up === 'cart' ? 'cart up' : 'plan up';
    say('drawing-name', replay === undefined ? 'Drawing' : 'Print of');
    const since = clockTime(this.#session.since);
    const live = !isPast ? `live, ${up}` : model.shapes === undefined ? 'empty' : `last seen ${since}`;
    say('drawing', replay === undefined ? live : `run of ${whenOf(replay.from)}`);
    const minus = (text: string): string => text.replaceAll('-', '−');
    const place = replay?.stood ?? (model.motion === undefined ? undefined : model.pose);
    const driven = replay?.driven ?? model.driven;
    say(
      'place',
      place === undefined
        ? '–'
        : minus(`${roundLength(place.x)}, ${roundLength(place.y)} · ${degrees(wrapAngle(place.heading))}`),
    );
    say('driven', `${roundLength(driven)} ${lengthUnit()}`);
    say('driven-name', replay === undefined ? 'Driven, watched' : 'Driven');
    view.toScreen(model.pose.x, model.pose.y);
    // where the drawing lies on the sheet, for whoever measures on it from outside
    const { dataset } = part('plan', HTMLElement);
    dataset.pxPerM = view.pxPerM.toFixed(3);
    dataset.cart = `${view.sx.toFixed(1)} ${view.sy.toFixed(1)}`;
    dataset.turn = (view.turn + model.pose.heading).toFixed(4);
    writeScale(view.pxPerM, (innerWidth < 700 ? 60 : 105) * rem());
    const block = part('block', HTMLElement);
    labels.reserved.blockLeft = block.offsetLeft;
    labels.reserved.blockTop = block.offsetTop;
    view.bottom = block.offsetHeight;
    const { settings } = this.#controls;
    const isClear = replay === undefined && settings?.noReturn === 'clear';
    show('warning', isClear);
    if (isClear)
      say(
        'warning',
        `Empty beams vouch for ${roundLength(settings.noReturnM)} ${lengthUnit()}: a pane met at a slant sends nothing back either, and counts as clear.`,
      );
  }

  /** The strip is drawn with the next frame: the hand follows at once. */
  hurryStrip(): void {
    this.#stripAt = -Infinity;
  }
}

const NONE: readonly never[] = [];

function noteOfReplay(replay: Replay): Note | undefined {
  const note = { text: '', steps: [], code: '' };
  if (replay.empty !== undefined)
    return { ...note, title: 'Nothing to show', text: replay.empty, todo: 'choose another run, or go back to live.' };
  if (!replay.isHeard)
    return {
      ...note,
      title: 'The run is not being played',
      text: 'The daemon does not answer.',
      todo: 'wait a moment, or go back to live.',
    };
  if (replay.model.health?.state !== 'blind') return undefined;
  const [finding] = replay.model.health.findings;
  return finding === undefined
    ? undefined
    : { ...note, title: 'The senses were blind', text: `${finding.what}.`, todo: finding.remedy, code: finding.code };
}
