import { readFile, writeFile } from 'node:fs/promises';
import { HtmlValidate } from 'html-validate';
import { describe, expect, it } from 'vitest';
import { NotARecording } from '../../../../daemon/record/parse.js';
import { reportPage } from '../../../../daemon/record/report/report.js';
import { readHistory } from '../../../../daemon/record/session/history.js';
import type { WatchEvent } from '../../../../daemon/watch/events.js';
import { Walk, WALK_PLAN, WELL } from '../../watch/procedure/walk.js';
import { opened } from '../open.js';
import { HEADER } from '../signal-cabin.js';
import { temporaryFolder } from '../temporary-folder.js';

/** A walk that remembers what it was fed. */
class RememberedWalk extends Walk {
  // Declared only: a field would be set after the constructor has fed its first events.
  declare events: WatchEvent[];

  override feed(...events: readonly WatchEvent[]): this {
    this.events ??= [];
    this.events.push(...events);
    return super.feed(...events);
  }
}

/** Checks, a failure that is mended, an override whose reason tries to be markup, and a name. */
function walked(): RememberedWalk {
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

async function recorded(events: readonly WatchEvent[]): Promise<string> {
  const { recording } = await opened(await temporaryFolder(), { header: { ...HEADER, plan: WALK_PLAN } });
  for (const event of events) recording.append(event);
  await recording.close(events.at(-1)?.atMs ?? 0);
  return recording.file ?? '';
}

describe('the power-up in the report', () => {
  it('tells each step with what was found, who overrode it and why, and who signed', async () => {
    const file = await recorded(walked().events);
    const page = reportPage({
      history: await readHistory(file),
      title: 'signal cabin',
      files: [],
      software: 'railminder',
    });
    const text = page.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    expect(text).toContain('Signed off by Ada &amp; Co.');
    expect(text).toMatch(/earth: 0\.12 Ω \(0\.30 Ω or less\) ● inside/);
    expect(text).toMatch(/logic\.volts: 5\.00 V \(4\.80 V to 5\.20 V\) ● inside/);
    expect(text).toMatch(/rails 0:02 [^]*● done[^]*failed/);
    expect(text).toContain('overridden: &lt;b&gt;soaked&lt;/b&gt; yesterday');
    const result = await new HtmlValidate({ extends: ['html-validate:standard'] }).validateString(page);
    expect(result.results.flatMap(({ messages }) => messages.map(({ message }) => message))).toEqual([]);
  });

  it('comes out of the recording as it was live', async () => {
    const walk = walked();
    const { procedure, steps } = await readHistory(await recorded(walk.events));
    expect(procedure).toEqual(walk.state.procedure);
    expect(steps).toEqual(walk.stepEffects().filter(({ change }) => change !== 'captured'));
  });

  it('is left out of a session without one', async () => {
    const { recording } = await opened(await temporaryFolder());
    await recording.close(0);
    const history = await readHistory(recording.file ?? '');
    const page = reportPage({ history, title: 'x', files: [], software: 'railminder' });
    expect(page).not.toContain('<h2>Power-up</h2>');
  });
});

it('a header whose steps are none is refused, not walked through', async () => {
  const file = await recorded([]);
  const text = await readFile(file, 'utf8');
  await writeFile(file, text.replace('"checks":[', '"checks":7,"x":['));
  await expect(readHistory(file)).rejects.toThrow(NotARecording);
});
