import { parseAst, Visitor, type Plugin } from 'vite';

/** No minifier may touch templates: a line's end with its indent becomes the one blank that HTML makes of it. */
export function closerTemplates(): Plugin {
  return {
    name: 'closer-templates',
    apply: 'build',
    transform: (code, id) => (id.endsWith('.ts') ? closer(code) : null),
  };
}

function closer(code: string): string {
  const texts: { readonly start: number; readonly end: number }[] = [];
  new Visitor({
    TaggedTemplateExpression({ tag, quasi }) {
      if (tag.type === 'Identifier' && /^(?:html|svg)$/.test(tag.name)) texts.push(...quasi.quasis);
    },
  }).visit(parseAst(code));
  return texts
    .sort((a, b) => b.start - a.start)
    .reduce(
      (left, { start, end }) => left.slice(0, start) + oneLine(left.slice(start, end)) + left.slice(end),
      code,
    );
}

function oneLine(html: string): string {
  const [first = '', ...rest] = html.split('\n');
  return rest.reduce((left, line) => {
    const next = line.trimStart();
    return `${left.trimEnd()}${next.startsWith('>') ? '' : ' '}${next}`;
  }, first);
}
