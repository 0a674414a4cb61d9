// Gets what the tests need and npm can't bring: a Chromium and socat, from the system's package manager.
import { existsSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { delimiter, join } from 'node:path';

const chromiumNames = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
const macChromium = '/Applications/Chromium.app/Contents/MacOS/Chromium';

const onPath = (name) =>
  (process.env['PATH'] ?? '').split(delimiter).some((folder) => existsSync(join(folder, name)));
const hasChromium = () =>
  existsSync(process.env['CHROMIUM_PATH'] ?? '') || chromiumNames.some(onPath) || existsSync(macChromium);

const wanted = [
  { what: 'Chromium', present: hasChromium, apt: 'chromium', brew: 'chromium', dnf: 'chromium' },
  { what: 'socat', present: () => onPath('socat'), apt: 'socat', brew: 'socat', dnf: 'socat' },
];

const managers = [
  {
    program: 'apt-get',
    install: (names) => [
      ['apt-get', ['-o', 'DPkg::Lock::Timeout=300', 'update']],
      ['apt-get', ['-o', 'DPkg::Lock::Timeout=300', 'install', '-y', '--no-install-recommends', ...names]],
    ],
    key: 'apt',
  },
  { program: 'dnf', install: (names) => [['dnf', ['install', '-y', ...names]]], key: 'dnf' },
  { program: 'brew', install: (names) => [['brew', ['install', ...names]]], key: 'brew' },
];

function run(program, args) {
  const asRoot = program === 'brew' || process.getuid?.() === 0;
  const [command, ...rest] = asRoot ? [program, ...args] : ['sudo', '-n', program, ...args];
  const result = spawnSync(command, rest, {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
  return result.status === 0;
}

const missing = wanted.filter((tool) => !tool.present());
if (missing.length > 0) {
  const names = missing.map((tool) => tool.what).join(' and ');
  const manager = managers.find(({ program }) => onPath(program));
  if (manager !== undefined) {
    console.log(`The tests need ${names}: getting it with ${manager.program}, this can take a few minutes.`);
    for (const [program, args] of manager.install(missing.map((tool) => tool[manager.key]))) {
      if (!run(program, args)) break;
    }
  }
  const still = wanted.filter((tool) => !tool.present());
  if (still.length > 0) {
    console.error(
      `Missing for the tests: ${still.map((tool) => tool.what).join(' and ')}. ` +
        `Install ${still.map((tool) => tool.apt).join(' and ')} with your system's package manager ` +
        '(or name a Chromium in CHROMIUM_PATH) and run npm test again.',
    );
    console.log('\n0 passed, 1 failed');
    process.exit(1);
  }
}
