import { readdir, symlink, unlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../../daemon/design/load.js';
import { CABIN } from './cabin-text.js';
import { OWN, testDesk } from './desk.js';

const CHANGED = CABIN.replace('r2: 2050', 'r2: 2100');

describe('saving', () => {
  it('replaces the opened design, remarks and all, and goes on from there', async () => {
    const { desk, read, folder } = await testDesk();
    const { version, file } = await desk.open();
    expect(file).toBe(OWN);
    const saved = await desk.save({ text: CHANGED, file: OWN, version });
    expect(saved.why).toBeNull();
    expect(await read(OWN)).toBe(CHANGED);
    const again = await desk.save({ text: CABIN, file: OWN, version: saved.version });
    expect(again.why).toBeNull();
    expect(await readdir(folder)).toEqual([OWN]);
  });

  it('refuses when the file was changed meanwhile, and leaves it as it is', async () => {
    const { desk, read, folder } = await testDesk();
    const { version } = await desk.open();
    await writeFile(join(folder, OWN), `${CABIN}# a word from somebody else\n`);
    const saved = await desk.save({ text: CHANGED, file: OWN, version });
    expect(saved.why).toMatch(/changed by another program.*another name/);
    expect(await read(OWN)).toContain('somebody else');
    expect(await readdir(folder)).toEqual([OWN]);
  });

  it('writes a new file beside it, and never over one that stands there', async () => {
    const { desk, read, folder } = await testDesk();
    const fresh = { text: CHANGED, file: 'crane yard.design.yaml', version: null };
    const saved = await desk.save(fresh);
    expect(saved.why).toBeNull();
    expect((await desk.save(fresh)).why).toMatch(/stands there already/);
    expect((await desk.save({ ...fresh, file: OWN })).why).toMatch(/stands there already/);
    expect(await read(OWN)).toBe(CABIN);
    const again = await desk.save({ ...fresh, text: CABIN, version: saved.version });
    expect(again.why).toBeNull();
    expect((await readdir(folder)).sort()).toEqual([OWN, 'crane yard.design.yaml'].sort());
  });

  it('replaces nothing but what was opened or saved here, whatever version is claimed', async () => {
    const { desk, read, folder } = await testDesk();
    await writeFile(join(folder, 'other.design.yaml'), CABIN);
    const { version } = await desk.open();
    const saved = await desk.save({ text: CHANGED, file: 'other.design.yaml', version });
    expect(saved.why).toMatch(/only the design that was opened/);
    expect(await read('other.design.yaml')).toBe(CABIN);
  });

  it('an example is never replaced', async () => {
    const { desk, read } = await testDesk(true);
    const { file, version, text } = await desk.open();
    expect({ file, version, text }).toEqual({ file: null, version: null, text: CABIN });
    expect((await desk.save({ text: CHANGED, file: OWN, version })).why).toMatch(/stands there already/);
    expect(await read(OWN)).toBe(CABIN);
  });

  // Ways out of a folder that are publicly listed (OWASP, path traversal).
  it.each([
    '../out.design.yaml',
    '/tmp/out.design.yaml',
    'a/b.design.yaml',
    'a\\b.design.yaml',
    '..design.yaml',
    '.design.yaml',
    '.hidden.design.yaml',
    'x.design.yaml\0',
    'x.yaml',
    'x.design.yaml/',
    `${'x'.repeat(150)}.design.yaml`,
  ])('writes nothing at %j', async (file) => {
    const { desk, folder } = await testDesk();
    expect((await desk.save({ text: CHANGED, file, version: null })).why).toMatch(/is allowed/);
    expect(await readdir(folder)).toEqual([OWN]);
  });

  it('a design that could not be started is not written, and the words say why', async () => {
    const { desk, read } = await testDesk();
    const { version } = await desk.open();
    const text = CABIN.replace('capacity_uF: 4700', 'capacity_uF: -1');
    const { why } = await desk.save({ text, file: OWN, version });
    expect(why).toMatch(/^Not saved: cabin\.design\.yaml:\d+ reservoir\.capacity_uF: found -1/);
    expect(await read(OWN)).toBe(CABIN);
  });

  it('a linked design stays a link to the file that is replaced', async () => {
    const { desk, read, folder } = await testDesk();
    await desk.save({ text: CHANGED, file: 'aim.design.yaml', version: null });
    const { version } = await desk.open();
    await writeFile(join(folder, 'elsewhere.yaml'), CABIN);
    await unlink(join(folder, OWN));
    await symlink(join(folder, 'elsewhere.yaml'), join(folder, OWN));
    expect((await desk.save({ text: CHANGED, file: OWN, version })).why).toBeNull();
    expect(await read('elsewhere.yaml')).toBe(CHANGED);
  });

  it('two at once: one is told that the file has changed', async () => {
    const { desk } = await testDesk();
    const { version } = await desk.open();
    const both = await Promise.all([
      desk.save({ text: CHANGED, file: OWN, version }),
      desk.save({ text: CABIN.replace('2050', '2000'), file: OWN, version }),
    ]);
    expect(both.map(({ why }) => why === null)).toEqual([true, false]);
  });
});

describe('beginning', () => {
  const rails = [
    { name: 'lamps', volts: '12', full: '0.5' },
    { name: 'logic', volts: '5', full: '0.28' },
  ];
  const answers = { name: 'yard lights', mains: '230', volts: '15', va: '30', capacity_uF: '4700', rails };

  it('two rails make a design that loads, with parts for what was asked', async () => {
    const { desk } = await testDesk();
    const { text } = await desk.begin(answers);
    const design = loadDesign(text ?? '', 'x');
    expect(Object.keys(design.rails)).toEqual(['lamps', 'logic']);
    // The 78xx series is named for its output volts (datasheets of the series).
    expect(design.rails['logic']?.regulator).toBe('7805');
  });

  it('every answer that will not do is told at its field', async () => {
    const { desk } = await testDesk();
    const bad = [
      { ...rails[0]!, name: 'Lamps!' },
      { ...rails[1]!, volts: '400' },
    ];
    const { text, complaints } = await desk.begin({ ...answers, va: 'much', rails: bad });
    expect(text).toBeNull();
    expect(Object.keys(complaints ?? {})).toEqual(['va', 'rails.0.name', 'rails.1.volts']);
    expect(complaints?.['va']).toMatch(/found "much"; a number from/);
  });

  it('no rail at all is told', async () => {
    const { desk } = await testDesk();
    expect((await desk.begin({ ...answers, rails: [] })).complaints).toHaveProperty('rails');
  });

  it('one more rail comes below the others; nothing else moves', async () => {
    const { desk } = await testDesk();
    const { text } = await desk.rail({ text: CABIN, name: 'bell', volts: '9', full: '0.1' });
    const design = loadDesign(text ?? '', 'x');
    expect(Object.keys(design.rails)).toEqual(['lamps', 'logic', 'bell']);
    const kept = (text ?? '').split('\n');
    let from = 0;
    for (const line of CABIN.split('\n')) {
      const at = kept.indexOf(line, from);
      expect(at, line).toBeGreaterThanOrEqual(from);
      from = at + 1;
    }
  });

  it('a name that is taken, and a design that is not right yet', async () => {
    const { desk } = await testDesk();
    const rail = { name: 'logic', volts: '9', full: '0.1' };
    expect((await desk.rail({ text: CABIN, ...rail })).complaints).toHaveProperty('name');
    expect((await desk.rail({ text: 'rails: 3', ...rail })).complaints).toHaveProperty('name');
  });
});
