import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { vi } from 'vitest';

/** A program at a pseudo-terminal of 80 columns, its keys pressed by the test. */
export class AtTerminal {
  readonly folder = mkdtempSync(join(tmpdir(), 'railminder-powerup-'));
  readonly #child: ChildProcessWithoutNullStreams;
  #said = '';
  #from = 0;

  constructor(args: (folder: string) => readonly string[]) {
    const command = [process.execPath, ...args(this.folder)].join(' ');
    this.#child = spawn('socat', ['-', `SYSTEM:${command}; echo CODE $?,pty,setsid,ctty,stderr,raw,echo=0`]);
    this.#child.stdin.on('error', () => undefined);
    this.#child.stdout.on('data', (bytes: Buffer) => (this.#said += bytes.toString()));
  }

  /** Everything that was sent, control sequences and all. */
  get raw(): string {
    return this.#said;
  }

  /** As a person sees it: without colours, and without the line that is written over and over. */
  get said(): string {
    const shown = this.#said.replace(/\u001b\[\d+m/g, '').replace(/[^\n]*\r\u001b\[K/g, '');
    return shown.slice(0, shown.lastIndexOf('\n') + 1);
  }

  /** Waits until the terminal says something new, and returns what it said meanwhile. */
  async until(pattern: RegExp, timeout = 60_000): Promise<string> {
    await vi
      .waitUntil(() => pattern.test(this.said.slice(this.#from)), { timeout })
      .catch((cause: unknown) => {
        throw new Error(`the terminal did not say ${pattern}; it said:\n${this.said.slice(-2500)}`, {
          cause,
        });
      });
    const news = this.said.slice(this.#from);
    this.#from = this.said.length;
    return news;
  }

  press(...keys: readonly string[]): void {
    this.#child.stdin.write(keys.join(''));
  }

  /** From now on it takes nothing, as one that is held with Ctrl-S or whose line hangs. */
  hold(): void {
    this.#child.kill('SIGSTOP');
  }

  recording(): string {
    const name = readdirSync(this.folder).find((file) => file.endsWith('.ndjson')) ?? 'none';
    return join(this.folder, name);
  }

  /** As when its window is closed: what runs there hears SIGHUP. */
  async close(): Promise<void> {
    if (this.#child.exitCode !== null || this.#child.signalCode !== null) return;
    const exited = new Promise((resolve) => this.#child.once('close', resolve));
    this.#child.kill('SIGTERM');
    this.#child.kill('SIGCONT');
    await exited;
  }

  async end(): Promise<void> {
    await this.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
