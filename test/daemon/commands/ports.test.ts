import { describe, expect, it } from 'vitest';
import { portLine } from '../../../daemon/commands/ports.js';
import { runCommand } from '../run-command.js';

it('opens nothing unless asked to, and says what opening can do', async () => {
  const { stdout } = await runCommand('ports', '--help');
  expect(stdout).toMatch(/Nothing is opened without --ask/);
  expect(stdout).toMatch(/restarts some boards/);
  const { code, stdout: listed } = await runCommand('ports', '--json');
  expect(code).toBe(0);
  for (const row of JSON.parse(listed) as object[]) expect(row).not.toHaveProperty('answered');
});

it('tells of each port what it answered when asked', async () => {
  const { code, stdout } = await runCommand('ports', '--ask', '--json');
  expect(code).toBe(0);
  const kinds = ['identity', 'prints', 'garbled', 'silent', 'not-open'];
  for (const { answered } of JSON.parse(stdout) as { answered: { kind: string } }[])
    expect(kinds).toContain(answered.kind);
});

describe('portLine', () => {
  const port = {
    path: '/dev/ttyUSB0',
    kind: 'serial',
    usb: null,
    serial: null,
    maker: null,
    product: null,
  } as const;

  it('says what is known', () => {
    expect(portLine(port)).toBe('/dev/ttyUSB0');
    const named = { ...port, usb: '1a86:7523', serial: 'A1', maker: 'Board Works', product: 'Probe board' };
    expect(portLine(named)).toBe('/dev/ttyUSB0  usb 1a86:7523:A1  Board Works Probe board');
  });

  it.each([
    [{ kind: 'identity', text: 'CABIN,METER,0,1' } as const, 'answers "CABIN,METER,0,1"'],
    [{ kind: 'prints', text: 'T1: 41.3 C' } as const, 'prints "T1: 41.3 C"'],
    [
      { kind: 'garbled' } as const,
      'sends what is no text at this speed; railminder listen /dev/ttyUSB0 finds out',
    ],
    [{ kind: 'silent' } as const, 'says nothing and does not answer *IDN?'],
    [{ kind: 'not-open', why: '/dev/ttyUSB0 is in use' } as const, '/dev/ttyUSB0 is in use'],
  ])('says %j', (answered, words) => {
    expect(portLine({ ...port, answered })).toBe(`/dev/ttyUSB0  ${words}`);
  });
});
