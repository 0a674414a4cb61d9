// Makes one kind of system call fail, as a full disk or a missing right does. Loaded before the program:
// node --import ./failing-system.mjs; FAILING says what: {"call":"open","path":"part of a path","code":"EACCES"},
// or several in a list.
// `after` lets so many calls through before; `answer` is what it says in place of failing.
import { ChildProcess } from 'node:child_process';
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { constants } from 'node:os';
import threads from 'node:worker_threads';

for (const one of [JSON.parse(process.env.FAILING ?? '{}')].flat()) makeFail(one);
syncBuiltinESMExports();

function makeFail({ call, path, code, answer, after = 0 }) {
  let passed = 0;
  /** Descriptors of files whose path is meant. */
  const meantFiles = new Set();

  function trouble() {
    const error = new Error(`${code}: as asked for, ${call}`);
    return Object.assign(error, { code, syscall: call, errno: -1 });
  }

  function isMeant(args) {
    if (meantFiles.has(args[0])) return true;
    const names = args.slice(0, 2).map(String);
    if (!names.some((name) => name.includes(path))) return false;
    passed += 1;
    return passed > after;
  }

  /** Which calls go through which functions of Node. */
  const SYNC = {
    readFile: ['readFileSync'],
    writeFile: ['writeFileSync'],
    open: ['openSync'],
    readdir: ['readdirSync'],
    mkdtemp: ['mkdtempSync'],
  };

  for (const name of SYNC[call] ?? []) {
    const real = fs[name];
    fs[name] = (...args) => {
      if (!isMeant(args)) return real(...args);
      // A disk that fills up while a file is written leaves the beginning of it.
      if (name === 'writeFileSync') real(args[0], String(args[1]).slice(0, 10), args[2]);
      throw trouble();
    };
  }

  const openSync = fs.openSync;
  fs.openSync = (...args) => {
    const descriptor = openSync(...args);
    if (String(args[0]).includes(path)) meantFiles.add(descriptor);
    return descriptor;
  };
  const readSync = fs.readSync;
  fs.readSync = (...args) => {
    if (call === 'read' && meantFiles.has(args[0])) throw trouble();
    return readSync(...args);
  };

  const promised = fs.promises[call];
  if (promised !== undefined) {
    fs.promises[call] = async (...args) => {
      if (!isMeant(args)) return promised(...args);
      if (answer !== undefined) return answer;
      throw trouble();
    };
  }

  // Streams open, read and write through these.
  for (const name of ['open', 'read', 'write', 'writev']) {
    const real = fs[name];
    fs[name] = (...args) => {
      const done = args.at(-1);
      if (name === 'open') {
        if (call === 'open' && isMeant(args)) return void process.nextTick(done, trouble());
        const isWatched = String(args[0]).includes(path);
        return real(...args.slice(0, -1), (error, descriptor) => {
          if (isWatched && !error) meantFiles.add(descriptor);
          done(error, descriptor);
        });
      }
      const kind = name === 'writev' ? 'write' : name;
      if (call !== kind || !meantFiles.has(args[0])) return real(...args);
      passed += 1;
      if (passed <= after) return real(...args);
      process.nextTick(done, trouble());
    };
  }

  /** Calls on an open file: `handle.write`, `handle.sync` and so on. */
  if (call?.startsWith('handle.')) {
    const method = call.slice('handle.'.length);
    const open = fs.promises.open;
    fs.promises.open = async (...args) => {
      const handle = await open(...args);
      if (!String(args[0]).includes(path)) return handle;
      const real = handle[method].bind(handle);
      handle[method] = async (...given) => {
        passed += 1;
        if (passed > after) throw trouble();
        return real(...given);
      };
      return handle;
    };
  }

  /** What the system answers when a program is to be started; Node makes of that what it always does. */
  if (call === 'spawn') {
    const spawn = ChildProcess.prototype.spawn;
    ChildProcess.prototype.spawn = function (options) {
      if (isMeant([options.args.join(' ')])) this._handle.spawn = () => -constants.errno[code];
      return spawn.call(this, options);
    };
  }

  /** A computer whose clock stands there, ms since 1970. */
  if (call === 'date') {
    globalThis.Date = class extends Date {
      constructor(...given) {
        super(...(given.length === 0 ? [answer] : given));
      }
    };
  }

  /** As Node throws it when the system gives no thread. */
  if (call === 'thread') {
    const { Worker } = threads;
    threads.Worker = class extends Worker {
      constructor(file, options) {
        if (isMeant([file])) throw trouble();
        super(file, options);
      }
    };
  }
}
