import { openTab } from './commands.js';
import { part, show } from './dom.js';
import type { Handwork } from './handwork.js';
import type { Marks } from './measure/marks.js';
import { Replay, type RunRow } from './replay.js';
import { RunsPanel } from './runsPanel.js';
import { ask } from './screen.js';
import type { Session } from './session.js';
import type { Stage } from './stage.js';

const LOOK_EVERY = 5; // s between looks at the list of runs while it is open
const SEEK_EVERY = 0.1; // s: the hand moves at once, the daemon is asked so often
const STRIP_KEYS: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowRight: 1, PageDown: -30, PageUp: 30 }; // s

type Wish = Readonly<{ pinned?: boolean; title?: string; remove?: boolean }>;

/** Runs: recording, marking, the list, and playing one again on the same page. */
export class RunDesk {
  readonly #session: Session;
  readonly #stage: Stage;
  readonly #marks: Marks;
  readonly #hand: Handwork;
  readonly #panel: RunsPanel;
  readonly #strip = part('strip', HTMLElement);
  #lookedAt = -Infinity;
  #soughtAt = -Infinity;
  #isSeekOwed = false;
  #hidden: { readonly run: RunRow; readonly at: number } | undefined;

  constructor(parts: { session: Session; stage: Stage; marks: Marks; hand: Handwork }) {
    this.#session = parts.session;
    this.#stage = parts.stage;
    this.#marks = parts.marks;
    this.#hand = parts.hand;
    this.#panel = new RunsPanel({
      play: (run) => this.play(run),
      rename: (run) => this.#rename(run),
      pin: (run) => this.#keep(run, { pinned: !run.pinned }),
      remove: (run) => this.#remove(run),
      close: () => this.open(false),
      barred: (isRemoving) => this.#session.barredBy(isRemoving ? 'admin' : 'drive'),
    });
    this.#strip.addEventListener('pointerdown', (event) => {
      this.#strip.setPointerCapture(event.pointerId);
      this.#scrub(event);
    });
    this.#strip.addEventListener('pointermove', (event) => {
      if (event.buttons === 1) this.#scrub(event);
    });
    this.#strip.addEventListener('keydown', (event) => {
      const step = STRIP_KEYS[event.key];
      const { replay } = this.#stage;
      if (step === undefined || replay === undefined) return;
      event.preventDefault();
      this.seek(replay.at + step);
    });
    document.addEventListener('visibilitychange', () => this.#look());
  }

  get isOpen(): boolean {
    return this.#panel.isOpen;
  }

  /** Opens or closes the list. */
  open(isOpen: boolean): void {
    this.#lookedAt = -Infinity;
    this.#panel.open(isOpen);
    if (innerWidth < 700) openTab(isOpen ? 'runs' : 'plan');
  }

  /** The list may have changed. */
  hurry(): void {
    this.#lookedAt = -Infinity;
  }

  /** @param now s: keeps the list up while it is open, and says where the hand stands. */
  tick(now: number): void {
    if (this.#isSeekOwed && now - this.#soughtAt > SEEK_EVERY) this.#seekNow(now);
    if (this.#panel.isOpen && this.#session.trust !== 'lost' && now - this.#lookedAt > LOOK_EVERY) void this.#fill(now);
  }

  async #fill(now: number): Promise<void> {
    this.#lookedAt = now;
    const playing = this.#stage.replay?.name ?? '';
    try {
      const told = (await this.#session.ask('/v1/runs')) as { readonly runs: readonly RunRow[] };
      this.#panel.fill(told.runs, '', playing);
    } catch (error) {
      this.#panel.fill([], error instanceof Error ? error.message : String(error), playing);
    }
  }

  #rename(run: RunRow): void {
    ask({ text: 'Name of this run', yes: 'Rename', field: run.title, act: (title) => this.#keep(run, { title }) });
  }

  #remove(run: RunRow): void {
    const pinned = run.pinned ? ' It is pinned.' : '';
    ask({
      text: `Delete “${run.title || run.name}” for good?${pinned}`,
      yes: 'Delete it',
      act: () => this.#keep(run, { remove: true }),
    });
  }

  #keep(run: RunRow, wish: Wish): void {
    this.#session.rover.send({ keep: { run: run.name, ...wish } });
    setTimeout(() => this.hurry(), 150);
  }

  /** Starts or stops recording. */
  record(): void {
    const { rover, run } = this.#session;
    if (run?.state === 'recording') rover.send({ record: { on: false } });
    else
      ask({
        text: 'Name of the run, if it shall have one',
        yes: 'Record',
        field: '',
        act: (title) => rover.send({ record: { on: true, title } }),
      });
  }

  /** Marks this moment, with a note. */
  mark(): void {
    const session = this.#session;
    const isRecording = session.run?.state === 'recording';
    const at = session.time;
    ask({
      text: isRecording
        ? 'A note for this moment, kept in the run'
        : 'A note for this moment. Nothing is recorded: it stands on this page only.',
      yes: 'Mark',
      field: '',
      act: (text) => {
        if (isRecording) session.rover.send({ mark: { text } });
        else session.history.note({ at, kind: 'mark', what: text || 'Mark' });
        this.#stage.hurryStrip();
      },
    });
  }

  /** Plays a run on this page. @param at Unix time of the day, s: where to begin, paused. */
  play(run: RunRow, at?: number): void {
    this.leave();
    const replay = new Replay(run.name, this.#session.token, (path) => this.#session.ask(path), at);
    replay.onShapes = () => this.#stage.onShapes();
    replay.model.mounting = this.#session.model.mounting;
    this.#stage.replay = replay;
    this.#panel.open(false);
    if (innerWidth < 700) openTab('plan');
    this.#show(true);
    part('plan', HTMLElement).focus();
  }

  /** Back to live. */
  leave(): void {
    if (this.#stage.replay === undefined) return;
    this.#stage.replay.close();
    this.#stage.replay = undefined;
    this.#show(false);
  }

  #show(isReplay: boolean): void {
    this.#marks.clear();
    this.#hand.hasMoved = false;
    for (const id of ['transport', 'back-to-live', 'inst-event']) show(id, isReplay);
    for (const id of ['mark', 'record', 'time-lead']) show(id, !isReplay);
    if (isReplay) {
      this.#strip.tabIndex = 0;
      this.#strip.setAttribute('role', 'slider');
      this.#strip.setAttribute('aria-label', 'Time in the run');
      this.tellPlace();
    } else
      for (const name of this.#strip.getAttributeNames())
        if (name.startsWith('aria-') || name === 'role' || name === 'tabindex') this.#strip.removeAttribute(name);
    this.#stage.refit();
  }

  /** Tells a screen reader where the hand stands. */
  tellPlace(): void {
    const { replay } = this.#stage;
    if (replay === undefined) return;
    const at = Math.max(0, replay.at - replay.from);
    this.#strip.setAttribute('aria-valuemin', '0');
    this.#strip.setAttribute('aria-valuemax', String(Math.round(replay.to - replay.from)));
    this.#strip.setAttribute('aria-valuenow', String(Math.round(at)));
    this.#strip.setAttribute('aria-valuetext', `${Math.floor(at / 60)} min ${Math.floor(at % 60)} s`);
  }

  /** Goes to a moment. @param time Unix time of the day, s. */
  seek(time: number): void {
    const { replay } = this.#stage;
    if (replay === undefined) return;
    replay.place(time);
    this.#stage.hurryStrip();
    this.#isSeekOwed = true;
    const now = performance.now() / 1000;
    if (now - this.#soughtAt > SEEK_EVERY) this.#seekNow(now);
  }

  #seekNow(now: number): void {
    this.#isSeekOwed = false;
    this.#soughtAt = now;
    this.#stage.replay?.seek();
  }

  /** Goes to the event after the moment shown, or before it. */
  event(isNext: boolean): void {
    const { replay } = this.#stage;
    const found = replay?.event(replay.at, isNext);
    if (found !== undefined) this.seek(found.happening.at);
  }

  /** Goes to a share of the run, 0 to 1. */
  share(part: number): void {
    const { replay } = this.#stage;
    if (replay !== undefined) this.seek(replay.from + part * (replay.to - replay.from));
  }

  #scrub(event: PointerEvent): void {
    const { left, width } = this.#strip.getBoundingClientRect();
    this.share((event.clientX - left) / width);
  }

  /** A hidden tab costs the daemon nothing: a run is left where it is, and gone on with when somebody looks. */
  #look(): void {
    const { replay } = this.#stage;
    if (document.hidden && replay?.row !== undefined) {
      this.#hidden = { run: replay.row, at: replay.at };
      replay.close();
    } else if (!document.hidden && this.#hidden !== undefined) {
      const { run, at } = this.#hidden;
      this.#hidden = undefined;
      this.play(run, at);
    }
  }
}
