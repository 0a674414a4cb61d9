import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { HtmlValidate } from 'html-validate';
import { beforeAll, describe, expect, it } from 'vitest';
import { packedSamples } from '../../../../daemon/record/capture/samples.js';
import { fileSha256 } from '../../../../daemon/record/file-hash.js';
import { reportPage } from '../../../../daemon/record/report/report.js';
import { readHistory } from '../../../../daemon/record/session/history.js';
import { startChromium } from '../../../web/chromium.js';
import { eventfulEvents, liveSession } from '../live-session.js';
import { PROBES_ON, volts } from '../signal-cabin.js';
import { temporaryFolder } from '../temporary-folder.js';

const sample = (name: string) => fileURLToPath(new URL(`../../../../recordings/${name}`, import.meta.url));

async function pageOf(file: string): Promise<string> {
  return reportPage({
    history: await readHistory(file),
    title: 'signal cabin',
    files: [{ name: 'a.ndjson', sha256: await fileSha256(file) }],
    software: 'railminder 0.1.0',
  });
}

describe('the report', () => {
  let page: string;
  beforeAll(async () => {
    page = await pageOf(sample('heatsink-missing.ndjson'));
  });

  it.each([
    'healthy.ndjson',
    'heatsink-missing.ndjson',
    'unplugged-meter.ndjson',
    'eight-hour-soak.ndjson.gz',
  ])('of %s is valid HTML, under 1 MB, without a script or anything from elsewhere', async (name) => {
    const text = await pageOf(sample(name));
    const result = await new HtmlValidate({ extends: ['html-validate:standard'] }).validateString(text);
    expect(result.results.flatMap(({ messages }) => messages.map(({ message }) => message))).toEqual([]);
    expect(Buffer.byteLength(text)).toBeLessThan(1e6);
    expect(text).not.toMatch(/<script|<link|<iframe|@import|\bsrc="(?!data:)|href=|url\((?!#)/);
  });

  it('says what was outside, when, and what was done about it', () => {
    expect(page).toContain('Outside its prediction or beyond a limit: logic.volts, logic.case.');
    expect(page).toMatch(/over its limit at 0:52/);
    expect(page).toMatch(/acknowledged 1:00/);
    expect(page).toContain('fitted one for the next run');
  });

  it('marks on the map of the supply what is outside, by shape and not by colour alone', () => {
    const map = /<svg\s+class="map"[^]*?<\/svg>/.exec(page)?.[0] ?? '';
    expect(map).toMatch(/<tspan class="inside">[\d.]+ V<\/tspan>/);
    expect(map).toMatch(/<tspan class="outside">■ [\d.]+ V<\/tspan>/);
  });

  it('names the recording by the hash that sha256sum prints', () => {
    const printed = execFileSync('sha256sum', [sample('heatsink-missing.ndjson')], { encoding: 'utf8' });
    expect(page).toContain(printed.slice(0, 64));
  });

  it('shows what a person wrote as text, and a photo as a picture', async () => {
    const photo = { type: 'image/png', base64: 'iVBORw0KGgo=' } as const;
    const text = '<script>alert(1)</script> & "5 V"';
    const { file } = await liveSession(await temporaryFolder(), [
      ...eventfulEvents(),
      { kind: 'note', atMs: 120_000, text, photo },
    ]);
    const made = await pageOf(file);
    expect(made).not.toContain('<script>');
    expect(made).toContain('&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;5 V&quot;');
    expect(made).toContain('src="data:image/png;base64,iVBORw0KGgo="');
  });

  it('stays under 1 MB with photos of 2 MB together, and says which it left out', async () => {
    const photo = (bytes: number) =>
      ({ type: 'image/jpeg', base64: Buffer.alloc(bytes, 7).toString('base64') }) as const;
    const { file } = await liveSession(await temporaryFolder(), [
      { kind: 'note', atMs: 1, text: 'the board', photo: photo(400_000) },
      { kind: 'note', atMs: 2, text: 'the heatsink', photo: photo(1_400_000) },
      { kind: 'note', atMs: 3, text: 'the fuse', photo: photo(200_000) },
    ]);
    const made = await pageOf(file);
    expect(Buffer.byteLength(made)).toBeLessThan(1e6);
    expect(made.match(/<img /g)).toHaveLength(2);
    expect(made).toMatch(/the heatsink[^]*?Its photo of 1\.4 MB would make this page too large/);
  });

  it('ends its table of alarms after two hundred, and says how many there are', async () => {
    const events = Array.from({ length: 20_000 }, (_, i) => volts(i * 500, i % 80 < 40 ? 5 : 5.9));
    const { file } = await liveSession(await temporaryFolder(), [...PROBES_ON, ...events]);
    const made = await pageOf(file);
    expect(made).toMatch(/\d+ later alarms are in the recording/);
    expect(Buffer.byteLength(made)).toBeLessThan(1e6);
  });

  it('draws captures, the first and the last six, and says how many more there are', async () => {
    const capture = (atMs: number, peak: number) =>
      ({
        kind: 'capture',
        atMs,
        instrument: 'scope',
        channel: 'ch1',
        point: 'logic.volts',
        unit: 'V',
        ...packedSamples(Int16Array.from({ length: 100 }, (_, i) => (i === 50 ? peak : 0))),
        scale: 0.1,
        offset: 5,
        startSeconds: 0,
        stepSeconds: 1e-4,
        coupling: 'dc',
      }) as const;
    const captures = Array.from({ length: 15 }, (_, i) => capture(1000 * (i + 1), 10 * (i + 1)));
    const { file } = await liveSession(await temporaryFolder(), captures);
    const made = await pageOf(file);
    const result = await new HtmlValidate({ extends: ['html-validate:standard'] }).validateString(made);
    expect(result.results).toEqual([]);
    expect(made.match(/class="wave"/g)).toHaveLength(12);
    expect(made).toContain('3 more captures are in the recording.');
    // By hand: a peak of 150 counts of 0.1 V over 5 V, one sample of a hundred.
    expect(made).toMatch(/0:15 logic rail volts<\/b><br \/>15\.00? V peak to peak, mean 5\.15 V/);
  });

  it('tells on its first page that the file was changed', async () => {
    const { file } = await liveSession(await temporaryFolder(), eventfulEvents());
    await writeFile(file, readFileSync(file, 'utf8').replace('[500,0,5.01', '[500,0,5.02'));
    expect(await pageOf(file)).toMatch(/<b>The recording:<\/b>[^<]*changed after it was closed/);
  });

  it('prints to A4 and Letter without a row, figure or short table that is torn between pages', async () => {
    const browser = await startChromium();
    try {
      const tab = await browser.newPage();
      await tab.setContent(page);
      for (const format of ['A4', 'Letter'] as const) {
        const path = join(await temporaryFolder(), `${format}.pdf`);
        await tab.pdf({ path, format, printBackground: true });
        expect((await stat(path)).size).toBeGreaterThan(10_000);
      }
      await tab.emulateMedia({ media: 'print' });
      const torn = await tab.$$eval(
        'tr, figure, table',
        (all) => all.filter((one) => getComputedStyle(one).breakInside !== 'avoid').length,
      );
      expect(torn).toBe(0);
    } finally {
      await browser.close();
    }
  });
});
