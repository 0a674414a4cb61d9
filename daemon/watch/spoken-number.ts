const SMALL = [
  'zero',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
  'thirteen',
  'fourteen',
  'fifteen',
  'sixteen',
  'seventeen',
  'eighteen',
  'nineteen',
];
const TENS = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];

/** A written number as it is said: `104` one hundred and four, `5.02` five point zero two. Up to 999,999. */
export function spokenNumber(written: string): string {
  if (written.startsWith('-')) return `minus ${spokenNumber(written.slice(1))}`;
  const [whole = '0', decimals = ''] = written.split('.');
  const words = spokenWhole(Number(whole));
  if (decimals === '') return words;
  return `${words} point ${[...decimals].map((digit) => SMALL[Number(digit)]).join(' ')}`;
}

function spokenWhole(whole: number): string {
  if (whole < 20) return SMALL[whole] ?? '';
  if (whole < 100) return join(TENS[Math.floor(whole / 10)] ?? '', whole % 10, '-');
  if (whole < 1000) return join(`${SMALL[Math.floor(whole / 100)] ?? ''} hundred`, whole % 100, ' and ');
  return join(
    `${spokenWhole(Math.floor(whole / 1000))} thousand`,
    whole % 1000,
    whole % 1000 < 100 ? ' and ' : ' ',
  );
}

function join(head: string, rest: number, between: string): string {
  return rest === 0 ? head : `${head}${between}${spokenWhole(rest)}`;
}
