import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EXIT } from '../../daemon/command-line.js';
import { temporaryFolder } from './record/temporary-folder.js';
import { runCommand } from './run-command.js';

const UNIT = readFileSync(new URL('../../daemon/board/railminder.service', import.meta.url), 'utf8');

/** What systemd.unit(5), systemd.service(5) and systemd.exec(5) document and a unit of this kind may use (systemd 252). */
const DOCUMENTED: Readonly<Record<string, readonly string[]>> = {
  Unit: [
    'Description',
    'Documentation',
    'Wants',
    'Requires',
    'After',
    'Before',
    'StartLimitIntervalSec',
    'StartLimitBurst',
  ],
  Service: [
    ...[
      'Type',
      'ExecStart',
      'ExecStartPre',
      'ExecStopPost',
      'Restart',
      'RestartSec',
      'RestartPreventExitStatus',
    ],
    ...['SuccessExitStatus', 'TimeoutStartSec', 'TimeoutStopSec', 'WatchdogSec', 'NotifyAccess'],
    ...['User', 'Group', 'DynamicUser', 'SupplementaryGroups', 'WorkingDirectory', 'Environment', 'UMask'],
    ...[
      'StateDirectory',
      'StateDirectoryMode',
      'NoNewPrivileges',
      'ProtectSystem',
      'ProtectHome',
      'PrivateTmp',
    ],
    ...[
      'ProtectKernelTunables',
      'ProtectKernelModules',
      'ProtectKernelLogs',
      'ProtectControlGroups',
      'ProtectClock',
    ],
    ...['RestrictAddressFamilies', 'RestrictSUIDSGID', 'RestrictNamespaces', 'LockPersonality', 'Nice'],
  ],
  Install: ['WantedBy', 'RequiredBy', 'Also', 'Alias'],
};

interface Line {
  readonly section: string;
  readonly key: string;
  readonly value: string;
}

/** By systemd.syntax(7): sections in brackets, `key=value`, remarks begin with `#` or `;`. */
function linesOf(unit: string): readonly Line[] {
  let section = '';
  return unit.split('\n').flatMap((text) => {
    if (text.trim() === '' || /^[#;]/.test(text)) return [];
    const header = /^\[(\w+)\]$/.exec(text)?.[1];
    if (header !== undefined) {
      section = header;
      return [];
    }
    const [, key = '', value = ''] = /^(\w+)=(.*)$/.exec(text) ?? [];
    return [{ section, key, value }];
  });
}

function undocumented(unit: string): readonly string[] {
  return linesOf(unit).flatMap(({ section, key }) =>
    DOCUMENTED[section]?.includes(key) === true ? [] : [`[${section}] ${key}`],
  );
}

const valueOf = (key: string): string => linesOf(UNIT).find((line) => line.key === key)?.value ?? '';

describe('the unit for a small board', () => {
  it('has only what systemd documents, and what it does not is seen', () => {
    expect(undocumented(UNIT)).toEqual([]);
    expect(undocumented(UNIT.replace('RestartSec', 'RestartSeconds'))).toEqual(['[Service] RestartSeconds']);
    expect(undocumented(UNIT.replace('[Install]', '[Instal]'))).toEqual(['[Instal] WantedBy']);
  });

  it('stands systemd’s own look at it, where there is a systemd', async () => {
    const folder = await temporaryFolder();
    const look = async (name: string, unit: string) => {
      const file = join(folder, name);
      await writeFile(file, unit.replace('/usr/local/bin/railminder', process.execPath));
      return spawnSync('systemd-analyze', ['verify', '--man=no', file], { encoding: 'utf8' });
    };
    const good = await look('good.service', UNIT);
    if (good.error !== undefined) return expect(good.error).toMatchObject({ code: 'ENOENT' });
    expect({ code: good.status, said: good.stderr }).toEqual({ code: 0, said: '' });
    const bad = await look(
      'bad.service',
      UNIT.replace('ProtectHome=yes', 'ProtectHome=perhaps\nGuardHome=yes'),
    );
    expect(bad.stderr).toMatch(/perhaps/);
    expect(bad.stderr).toMatch(/GuardHome/);
  });

  it('starts the program with options that it has', async () => {
    const [, command = '', ...rest] = valueOf('ExecStart').split(' ');
    const options = rest.filter((word) => word.startsWith('--'));
    const { stdout } = await runCommand(command, '--help');
    expect(options.length).toBeGreaterThan(3);
    for (const option of options) expect(stdout).toContain(option);
  });

  it('writes where it may: everything is in its state folder', () => {
    const words = valueOf('ExecStart').split(' ');
    const writes = ['--recordings', '--key-file'].map((option) => words[words.indexOf(option) + 1]);
    for (const path of writes) expect(path).toMatch(new RegExp(`^/var/lib/${valueOf('StateDirectory')}/`));
    expect(valueOf('ProtectSystem')).toBe('strict');
  });

  it('starts again after a defect, and not where that would change nothing', () => {
    expect(valueOf('Restart')).toBe('on-failure');
    expect(valueOf('RestartPreventExitStatus').split(' ').map(Number)).toEqual([EXIT.outside, EXIT.badUse]);
    expect([EXIT.outside, EXIT.badUse]).not.toContain(EXIT.defect);
  });
});
