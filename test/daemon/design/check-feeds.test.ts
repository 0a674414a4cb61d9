import { describe, expect, it } from 'vitest';
import { checkFeeds } from '../../../daemon/design/check-feeds.js';
import { cabin, designMessage } from './signal-cabin.js';

const FLAT = '    regulator: 7805';

describe('what feeds a rail', () => {
  it('is a place that exists', () => {
    expect(designMessage(FLAT, `${FLAT}\n    from: lampz`)).toMatch(
      /^signal-cabin\.design\.yaml:\d+ rails\.logic\.from: found "lampz", which the design doesn't have; allowed are reservoir, lamps; did you mean lamps\?$/,
    );
  });

  it('is not itself, directly or through others', () => {
    const design = cabin();
    const { rails } = design;
    const { lamps, logic } = rails;
    if (lamps === undefined || logic === undefined) throw new Error('the cabin has lost a rail');
    const circle = {
      ...design,
      rails: { lamps: { ...lamps, from: 'logic' }, logic: { ...logic, from: 'lamps' } },
    };
    expect(checkFeeds(circle).map(({ path, sentence }) => [path.join('.'), sentence])).toEqual([
      [
        'rails.lamps.from',
        'lamps from logic from lamps: these rails feed each other in a circle; one of them must come from the reservoir',
      ],
    ]);
    expect(checkFeeds({ ...design, rails: { lamps: { ...lamps, from: 'lamps' } } })[0]?.sentence).toMatch(
      /^lamps from lamps: /,
    );
  });

  it('gives enough volts', () => {
    expect(designMessage(FLAT, '    regulator: 7812\n    from: lamps')).toMatch(
      /rails\.logic\.(from|regulator): /,
    );
  });
});
