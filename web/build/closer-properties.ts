import { parseAst, Visitor, type Plugin } from 'vite';

const SHORT = 'virtual:properties';
/** Makes the options of all properties from their names: what is handed over, and what is yes or no. */
const SHORT_CODE = `const options = (names, option) => (names.match(/\\w+/g) ?? []).map((name) => [name, option]);
export default (handed, flags) =>
  Object.fromEntries([...options(handed, { attribute: false }), ...options(flags, { type: Boolean })]);`;

const HANDED = /\b(\w+): \{ (?:attribute: false|state: true) \}/g;
const FLAG = /\b(\w+): \{ type: Boolean \}/g;

/** The lists of properties that elements declare, said once: of most of them only the names differ. */
export function closerProperties(): Plugin {
  return {
    name: 'closer-properties',
    apply: 'build',
    resolveId: (id) => (id === SHORT ? id : null),
    load: (id) => (id === SHORT ? SHORT_CODE : null),
    transform: (code, id) => (id.endsWith('.ts') ? closer(code) : null),
  };
}

function closer(code: string): string {
  let left = code;
  new Visitor({
    PropertyDefinition({ key, value }) {
      if (key.type !== 'Identifier' || key.name !== 'properties' || value === null) return;
      const text = code.slice(value.start, value.end);
      const names = (option: RegExp) => [...text.matchAll(option)].map(([, name]) => name).join(' ');
      if (/\w/.test(text.replace(HANDED, '').replace(FLAG, ''))) return;
      left = left.replace(text, `properties('${names(HANDED)}', '${names(FLAG)}')`);
    },
  }).visit(parseAst(code));
  return left === code ? code : `import properties from '${SHORT}';${left}`;
}
