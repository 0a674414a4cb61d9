// A driver that never comes back once its board has said LOOP: the program's own loop stands still with it.
const PATIENCE = /LOOP/;

const loopingBoard = {
  name: 'looping-board',
  reads: 'a board that says LOOP',
  channelsOf: () => [],
  checkOptions: () => [],
  intervalMs: () => 60_000,
  start({ link }) {
    link.start({
      onState: () => undefined,
      onBytes(bytes) {
        while (PATIENCE.test(Buffer.from(bytes).toString('ascii')));
      },
    });
    return { stop: () => link.stop() };
  },
};

export default loopingBoard;
