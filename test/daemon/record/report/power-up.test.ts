import { readFile, writeFile } from 'node:fs/promises';
import { HtmlValidate } from 'html-validate';
import { describe, expect, it } from 'vitest';
import { NotARecording } from '../../../../daemon/record/parse.js';
import { reportPage } from '../../../../daemon/record/report/report.js';
import { readHistory } from '../../../../daemon/record/session/history.js';
import { opened } from '../open.js';
import { recorded, walked } from '../recorded-walk.js';
import { temporaryFolder } from '../temporary-folder.js';

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
    expect(text).toMatch(/earth\? 0\.12 Ω \(0\.30 Ω or less\) ● inside/);
    expect(text).toMatch(/logic\.volts: 5\.00 V \(4\.80 to 5\.20 V\) ● inside/);
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
