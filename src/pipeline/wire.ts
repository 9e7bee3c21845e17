import { Observable, share, takeUntil } from 'rxjs';
import type { Clock } from '../core/clock.js';
import type { FeedMessage } from './feedMessage.js';
import type { LinkEvent, Senses } from './senses.js';

/**
 * Drives the senses from the link and from the clock: one link for everyone, until `stop`. The senses keep their memory; a
 * bug in them is an error of the stream and ends the process.
 */
export function wire(
  events: Observable<LinkEvent>,
  senses: Senses,
  clock: Clock,
  stop: Observable<void>,
): Observable<FeedMessage> {
  return new Observable<FeedMessage>((subscriber) => {
    let cancel = (): void => {};
    let armedFor = Infinity;
    const arm = (): void => {
      const at = senses.wakeAt;
      if (at >= armedFor) return; // the earlier call asks again
      cancel();
      armedFor = at;
      cancel = clock.after(at - clock.now(), () => {
        armedFor = Infinity;
        guard(() => senses.wake());
      });
    };
    const guard = (work: () => Iterable<FeedMessage>): void => {
      try {
        for (const message of work()) subscriber.next(message);
        arm();
      } catch (error) {
        subscriber.error(error);
      }
    };
    const link = events.subscribe({
      next: (event) => guard(() => senses.take(event)),
      error: (error) => subscriber.error(error),
      complete: () => subscriber.complete(),
    });
    arm();
    return () => {
      cancel();
      link.unsubscribe();
    };
  }).pipe(
    takeUntil(stop),
    share({ resetOnRefCountZero: true, resetOnComplete: false, resetOnError: false }), // whoever comes after the end hears that it has ended
  );
}
