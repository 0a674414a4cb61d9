const MANY = 300_000;

/** Every list ten times in the next one: "billion laughs", as it is called for XML. */
const LAUGHS = [...'bcdefghi']
  .map((name, at) => `${name}: &${name} [${Array(10).fill(`*${'abcdefgh'[at]}`).join(',')}]`)
  .join('\n');

// Kinds that are publicly listed (OWASP: deserialisation, prototype pollution, XML bombs), written in YAML 1.2.
export const REFUSED_YAML: Readonly<Record<string, string>> = {
  'aliases of aliases': `a: &a [x,x,x,x,x,x,x,x,x,x]\n${LAUGHS}`,
  'an alias within itself': 'a: &a [*a]',
  'brackets without end': '['.repeat(MANY),
  'lists in lists on a line': '- '.repeat(MANY),
  'a prototype': '"__proto__": { armed: true }',
  'a prototype in escapes': '"\\u005f_proto__": { armed: true }',
  'a prototype further in': 'rails: { logic: { __proto__: { armed: true } } }',
  'a prototype by a merge': 'a: &a { x: 1 }\nb:\n  <<: *a\n  __proto__: { armed: true }',
  'anchors without end': Array.from({ length: 40_000 }, (_, at) => `a${at}: &a${at} x`).join('\n'),
  'tags without end': `a: ${'!a '.repeat(MANY)}`,
  'texts without end': `- ${'"a" '.repeat(150_000)}`,
  'list signs without end': '-\n'.repeat(MANY),
  'question marks without end': '?\n'.repeat(MANY),
  'colons without end': ':\n'.repeat(MANY),
  'one key without end': 'a: 1\n'.repeat(150_000),
  'parts without end': '---\n'.repeat(200_000),
  'empty lines without end': '\n'.repeat(900_000),
  'groups in brackets without end': `{${'a,'.repeat(MANY)}}`,
};
