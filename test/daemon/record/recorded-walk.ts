import type { WatchEvent } from '../../../daemon/watch/events.js';
import { Walk, WALK_PLAN, WELL } from '../watch/procedure/walk.js';
import { opened } from './open.js';
import { HEADER } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

/** A walk that remembers what it was fed. */
export class RememberedWalk extends Walk {
  // Declared only: a field would be set after the constructor has fed its first events.
  declare events: WatchEvent[];

  override feed(...events: readonly WatchEvent[]): this {
    this.events ??= [];
    this.events.push(...events);
    return super.feed(...events);
  }
}

/** Checks, a failure that is mended, an override whose reason tries to be markup, and a name. */
export function walked(): RememberedWalk {
  const begin = { action: 'begin' } as const;
  return new RememberedWalk()
    .off()
    .act('cold-checks', begin)
    .answerAll()
    .act('rails', begin)
    .stand(6000, { ...WELL, logic: 5.35 })
    .off()
    .stand(6000, WELL)
    .act('soak', begin)
    .act('soak', { action: 'override', reason: '<b>soaked</b> yesterday' })
    .act('real-load-logic', begin)
    .off()
    .stand(6000, WELL)
    .act('sign-off', begin)
    .act('sign-off', { action: 'sign', name: 'Ada & Co' });
}

export async function recorded(events: readonly WatchEvent[]): Promise<string> {
  const { recording } = await opened(await temporaryFolder(), { header: { ...HEADER, plan: WALK_PLAN } });
  for (const event of events) recording.append(event);
  await recording.close(events.at(-1)?.atMs ?? 0);
  return recording.file ?? '';
}
