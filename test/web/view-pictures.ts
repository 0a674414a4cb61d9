import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { FAILED, walkAt, walking } from './cabin-walk.js';
import { reservoirCapture } from './captures.js';
import { startFullDaemon } from './full-daemon.js';
import { takePictures } from './pictures.js';
import { eightRails, onlyLooking, twelveAlarms } from './scenes.js';
import { compareRecordings, openRecording, showView } from './show-view.js';
import { calm, LOOSE_HEATSINK, troubled, unprobed, withCutOffs } from './signal-cabin.js';

const BUILT = fileURLToPath(new URL('../../dist/web', import.meta.url));

/** A scene on a view, and what is done there before the picture. */
interface PicturedScene {
  readonly view: string;
  readonly scene: SnapshotMessage;
  readonly then?: (page: Page) => Promise<unknown>;
}

const SCENES: Readonly<Record<string, PicturedScene>> = {
  'bench-calm': { view: 'bench', scene: calm() },
  'bench-trouble': {
    view: 'bench',
    scene: withCutOffs({ ...troubled(), suspicion: LOOSE_HEATSINK, captures: [reservoirCapture()] }),
    then: (page) => page.getByRole('button', { name: 'Logic rail' }).click(),
  },
  'bench-eight-rails': { view: 'bench', scene: eightRails() },
  'bench-twelve-alarms': { view: 'bench', scene: twelveAlarms() },
  'bench-nothing-measured': { view: 'bench', scene: unprobed() },
  'bench-only-looking': { view: 'bench', scene: onlyLooking(withCutOffs(troubled())) },
  'walk-cold': { view: 'walk', scene: walking(walkAt('cold-checks')) },
  'walk-failed': { view: 'walk', scene: walking(FAILED) },
  'job-list': { view: 'job', scene: calm() },
  'job-recording': {
    view: 'job',
    scene: calm(),
    then: (page) => openRecording(page, 'no-heatsink.ndjson'),
  },
  'job-comparison': {
    view: 'job',
    scene: calm(),
    then: (page) => compareRecordings(page, ['no-heatsink.ndjson', 'with-heatsink.ndjson']),
  },
  design: { view: 'design', scene: troubled() },
  instruments: {
    view: 'instruments',
    scene: calm(),
    then: (page) =>
      page.getByRole('region', { name: 'meter', exact: true }).getByText('volts', { exact: true }).click(),
  },
};

/**
 * Every view in its scenes, at every size in light and dark, in `folder`, to be looked at. Gives the files' paths.
 * @param only takes those whose name begins so
 */
export async function takeViewPictures(
  browser: Browser,
  folder: string,
  only = '',
): Promise<readonly string[]> {
  const files: string[] = [];
  const daemon = await startFullDaemon(BUILT, calm());
  try {
    for (const [name, { view, scene, then }] of Object.entries(SCENES)) {
      if (!name.startsWith(only)) continue;
      daemon.snapshot = scene;
      const address = `${daemon.address}#/${view}`;
      const prepare = async (page: Page): Promise<void> => {
        await showView(page, view);
        await then?.(page);
      };
      files.push(...(await takePictures({ browser, address, folder, name, prepare })));
    }
  } finally {
    await daemon.stop();
  }
  return files;
}
