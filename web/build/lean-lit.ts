import type { Plugin } from 'vite';
import { cutAll, type Cut } from './cut.js';

/*
 * lit carries what this page never asks for: browsers without constructed style sheets, legacy decorators, controllers,
 * reflected attributes, directives on elements. It goes at build time; whoever uses one of them is told by the build.
 */

const NOT_HERE =
  /\breflect:|\buseDefault:|\bconverter:|\baddController\b|lit\/decorators|lit\/directives\/(?!repeat\.js)/;

const CUTS: Readonly<Record<string, readonly Cut[]>> = {
  '/css-tag.js': [
    ['const t=globalThis,e=', 's=Symbol()', 'const e=!0,'],
    ['if(this._$cssResult$=!0,', 'this.cssText=t', 'this._$cssResult$=!0,'],
    [
      'const s=this.t;',
      'return t}toString',
      'void 0===t&&(this.o=t=new CSSStyleSheet).replaceSync(this.cssText);',
    ],
    ['if(e)s.adopted', '},c=e', 's.adoptedStyleSheets=o.map(t=>t.styleSheet)'],
    ['c=e?', ';export', 'c=t=>t'],
  ],
  '/reactive-element.js': [
    ['c=a.trustedTypes', 'd=(t,s)=>t'],
    ['toAttribute(t,s)', 'fromAttribute(t,s)'],
    ['Symbol.metadata??=', 'class y'],
    ['static addInitializer', 'static get observed'],
    [',this.prototype.hasOwnProperty(t)&&', ',this.elementProperties.set'],
    ['void 0!==t.l&&', 'this.elementProperties=new'],
    ['const t=this[Symbol', 'this._$Eh=new Map'],
    [',this.constructor.l?', '}addController'],
    ['addController', '_$E_(){const'],
    [',this._$EO?', '}enableUpdating'],
    ['this._$EO?', '}attributeChanged'],
    ['_$ET(t,s){', '_$AK(t,s)'],
    ['"function"==typeof t.converter', ';this._$Em=e', 'u'],
    ['r??this._$Ej?.get(e)??r', ',this._$Em=null}}req', 'r'],
    ['||i.useDefault', '))return;'],
    ['{useDefault:i,', '}async _$EP', '){this._$AL.has(t)||(this.hasUpdated||(s=void 0),this._$AL.set(t,s))'],
    ['const t=this.constructor.elementProperties;if(t.size>0)', '}let t=!1'],
    ['this._$EO?', 'this.update(s)'],
    ['this._$EO?', 'this.hasUpdated||'],
    ['this._$Eq&&=', 'this._$EM()}updated'],
    [',p?.(', ';export'],
  ],
  '/lit-html.js': [
    ['s=t.trustedTypes', 'h="$lit$"'],
    ['return void 0!==e?', '}const N', 'return i'],
    [':3===i?"<math>":', '"",c=v', ':'],
    [':3===i?"</math>":', '"")),e]', ':'],
    ['s?s.emptyScript:', '""'],
    ['}else t.startsWith(o)&&(', 'if(y.test(r.tagName))', '}'],
    [':6===r.type&&', ',this._$AV.push', ':0'],
    ['this._$AP?.(!1,!0,s)', ';t!==this._$AB'],
    ['setConnected(t)', '}class H'],
    ['class Z{', 'const j='],
    ['const j={', 'const D=', 'const j={I:k};'],
  ],
  '/lit-element.js': [
    ['connectedCallback(){', 'render(){'],
    [',s.litElementHydrate', 'export{i as', ';const n=0;'],
  ],
};

export function leanLit(): Plugin {
  return {
    name: 'lean-lit',
    apply: 'build',
    transform(code, id) {
      if (id.endsWith('.ts') && NOT_HERE.test(code))
        throw new Error(`${id}: lean-lit.ts cuts this out of lit`);
      const file = Object.keys(CUTS).find((name) => id.endsWith(name));
      return file === undefined ? null : cutAll(code, CUTS[file] ?? []);
    },
  };
}
