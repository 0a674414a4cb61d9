// A driver that throws where nobody calls it once its board has said how.
const STRAYS = {
  REJECTS: () => void Promise.reject(new Error('no table for this meter')),
  TIMER: () =>
    void setTimeout(() => {
      throw new RangeError('no table for this meter');
    }, 1),
  AWAITS: async () => {
    await new Promise((resolve) => setImmediate(resolve));
    null.table();
  },
  // Without a stack nobody can tell whose it is.
  WORD: () => void Promise.reject('no table for this meter'),
};

const strayBoard = {
  name: 'stray-board',
  reads: 'a board that says how to fail',
  channelsOf: () => [],
  checkOptions: () => [],
  intervalMs: () => 60_000,
  start({ link, emit, clock }) {
    link.start({
      onState: ({ kind }) =>
        emit({ kind: 'state', atMs: clock.nowMs(), state: kind === 'open' ? 'open' : 'lost', why: kind }),
      onBytes: (bytes) => STRAYS[Buffer.from(bytes).toString('ascii').trim()]?.(),
    });
    return { stop: () => link.stop() };
  },
};

export default strayBoard;
