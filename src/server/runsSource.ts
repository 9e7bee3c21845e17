import type { FeedSource, Format } from './feedSource.js';

/** Recorded runs as the server needs them. Values go out as JSON. */
export interface RunsSource {
  /** Every run, newest first. */
  list(): Promise<object>;
  /** One run: its row, its events and its moments. @throws {Fault} RUN_NOT_FOUND and what a file can lack. */
  show(name: string): Promise<object>;
  /** Feeds of a run that one client steers. @throws {Fault} as {@link show}; RUNS_PLAYING_FULL. */
  play(name: string, format: Format): PlayedRun;
}

/** The feeds of a run being played. */
export interface PlayedRun extends FeedSource {
  /** Nobody looks any more. */
  stop(): Promise<void>;
}
