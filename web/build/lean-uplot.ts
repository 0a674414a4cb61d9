import type { Plugin } from 'vite';
import { cutAll, type Cut } from './cut.js';

/*
 * uPlot is one closure that no bundler can shake. Every chart of this page has linear scales, time to the right, values
 * upwards, an axis below and one on the left, plain lines, no legend and no dragging; what uPlot has for anything else
 * goes at build time. A text that isn't found fails the build, so no new uPlot slips through half trimmed.
 */

const CUTS: readonly Cut[] = [
  // scales, times, numbers
  ['const positiveIdxs', 'function getMinMax('],
  ['const numFormatter =', 'const M = Math;'],
  ['const months = [', '//export const series'],
  ['const wholeIncrs =', 'const numIncrs ='],
  ['const NL = "\\n";', 'function legendStroke('],
  ['const getVal = (', 'return val => {\n\t\t\tlet _val'],
  ['let _val = getVal', 'let { _min, _max }', 'const _val = val;\n'],
  ['if (scaleOpts.from != null)', 'sc = scales[scaleKey] = assign', '{\n'],
  ['let isTime = sc.time;\n\n\t\t\t\tlet rn', 'sc.auto = fnOrSelf'],
  ['rangeIsArr ? false : ', 'sc.auto)'],
  ['sc.clamp = fnOrSelf', '// caches for expensive'],
  ['// explicitly-set initial scales', 'const activeIdxs'],
  ['// implicitly add dependent scales', '// explicitly setting the x-scale'],
  ['// range dependent scales', 'let changed = {}'],
  ['if (pendScales[xScaleKey])\n\t\t\tsetScale', 'autoScaleX();\n\n\t\tshouldSetSelect'],
  ['shouldSetSelect = select.show && (select', 'shouldSetCursor = shouldSetLegend = true'],
  ['if (xScaleDistr == 3)\n', '}\n\t\t\t}\n\t\t\telse {', '_max += 1;\n'],
  ['self.setScale =', '//\tINTERACTION'],
  ['function closestIdxFromXpos', 'self.posToVal ='],
  // lines alone
  ['const facet = {', 'const ySeriesOpts ='],
  ['gaps,\n\talpha', 'values: null,'],
  ['function rect(ori) {', '// orientation-inverting'],
  ['const rectH = rect(0);', 'const arcH', 'const rectH = (p, x, y, w, h) => p.rect(x, y, w, h);\n'],
  ['const arcH', '// TODO: drawWrap'],
  ['// TODO: drawWrap', 'function _drawAcc('],
  ['const drawAccV', 'function linear('],
  ['return (sx.ori == 0', 'function clipGaps(', 'return cb(series, dx, dy, sx, sy, H, V, l, t, w, h);\n}\n'],
  ['let [ bandFillDir', 'if (!series.spanGaps)'],
  [' = series.gaps(', ';\n\n\t\t\t\t_paths.clip'],
  ['if (bandClipDir != 0)', 'return _paths;'],
  ['function stepped(opts)', 'const cursorPlots'],
  ['const pointsPath =', 'function setDefaults('],
  ['function setDefaults2', 'function setDefault('],
  ['function snapNumX', '// dim is logical'],
  ['self.valToPosV = getVPos;', 'const root =', 'self.valToPosV = getVPos;\n'],
  ['const bands   = self.bands', 'const xScaleKey'],
  ['let shouldAlpha', 'series.forEach((s, i) => {\n\t\t\t\tif (i > 0 && s.show) {\n\t\t\t\t\tcacheStroke'],
  [
    'cacheStrokeFill(i, false)',
    'if (s._paths == null) {\n\t\t\t\t\t\tlet _ctxAlpha',
    's._stroke = s.stroke(self, i);\n',
  ],
  ['let _ctxAlpha = ctxAlpha;', 'let _idxs = mode'],
  ['if (ctxAlpha != _ctxAlpha)\n', '}\n\t\t\t\t}\n\t\t\t});'],
  ['let _ctxAlpha = ctxAlpha;', 's._paths != null && drawPath'],
  ['{\n\t\t\t\t\t\tlet _gaps', 'fire("drawSeries"'],
  ['if (shouldAlpha)', '}\n\t}\n\n\tfunction cacheStrokeFill'],
  ['function cacheStrokeFill', 'function drawPath'],
  ['let s = _points ?', '_stroke: strokeStyle', 'const s = series[si];\nlet {\nstroke,\nclip: gapsClip,\n'],
  ['_fill:   fillStyle ', '_width:  width'],
  ['if (_points && fillStyle', 'let _pxAlign'],
  ['if (!_points) {', 'let lft = plotLft - width', '{\n'],
  [
    '// the points pathbuilder',
    '_pxAlign && ctx.translate(-offset',
    `setCtxStyle(strokeStyle, width, s.dash, s.cap);
ctx.save();
ctx.clip(boundsClip);
gapsClip && ctx.clip(gapsClip);
strokeStyle && ctx.stroke(stroke);
ctx.restore();
`,
  ],
  ['function fillStroke(', 'function getIncrSpace('],
  // axes
  ['const ticks = assign', 'const xAxisOpts'],
  ['labelGap: 0,\n', 'side: 2,'],
  ['ticks,\n\tborder', '};\n\nconst numSeries'],
  ['const numSeriesLabel', 'const xSeriesOpts'],
  ['function numAxisVals', 'function numAxisSplits'],
  ['// this doesnt work for sin', 'const yAxisOpts'],
  ['labelGap: 0,\n', 'side: 3,'],
  ['ticks,\n\tborder', '};\n\n// takes stroke'],
  ['// takes stroke width', 'const ySeriesOpts'],
  ['function clampScale', 'const xScaleOpts'],
  [
    'let hasTopAxis = false;',
    'axes.forEach((axis, i) => {\n\t\t\tif (axis.show && axis._show) {\n\t\t\t\tlet {side',
  ],
  [
    'let {side, _size} = axis;',
    '}\n\t\t});\n\n\t\tsidesWithAxes',
    `if (axis.side == 3) {
plotWidCss -= axis._size;
plotLftCss += axis._size;
} else plotHgtCss -= axis._size;
`,
  ],
  ['sidesWithAxes[0] =', '// hz padding'],
  ['let off1 =', 'let off2 ='],
  ['let off0 =', 'function incrOffset'],
  ['case 1: off1', 'case 2: off2'],
  ['case 0: off0', '}\n\t\t}\n\n\t\taxes.forEach'],
  ['if (axis.label != null)', '}\n\t\t});\n\t}\n\n\tif (cursor.dataIdx'],
  ['const sidesWithAxes', 'function initAxis'],
  ['// this can occur if all', '// also set defaults'],
  ['let isTime = sc.time;', 'axis.size   ='],
  ['axis.rotate =', 'if (isArr(axis.incrs))'],
  ['axis.ticks.stroke', 'axis.font      =', 'axis.filter = retArg1;\n'],
  ['axis.labelFont =', 'axis._size   ='],
  ['axis._rotate =\n', 'axis._incrs  ='],
  ['if (axis._size > 0) {', '}\n\t}\n\n\tfunction autoPadSide'],
  ['function autoPadSide', 'let dataLen;', 'const _padding = opts.padding;\n'],
  ['// rotating of labels', 'let oldSize'],
  ['function paddingCalc', 'function drawAxesGrid'],
  ['let paddingConverged', 'converged = cycleNum'],
  ['(axesConverged && paddingConverged)', ';', 'axesConverged'],
  [', axis.labelFont].forEach', '(f => {', '].forEach'],
  ['// axis label\n', 'if (_space == 0)\n\t\t\t\tcontinue'],
  ['let ticks = axis.ticks;', 'let basePos', 'const axisGap = round(axis.gap * pxRatio);\n'],
  ['(tickSize + axisGap)', ' * shiftDir', 'axisGap'],
  [
    'let textAlign ',
    'setFontStyle(font',
    'const textAlign = ori == 0 ? "center" : RIGHT;\nconst textBaseline = ori == 1 ? "middle" : TOP;\n',
  ],
  ['let lineHeight', 'let canOffs'],
  ['val = "" + val;', '// grid\n', 'ctx.fillText(val, x, y);\n}\n}\n'],
  ['if (border.show) {', '}\n\n\t\tfire("drawAxes")'],
  ['axes.forEach(({ _el', '// invalidate ctx style'],
  // title, plug-ins, legend
  ['function legendStroke', 'function cursorPointShow'],
  ['if (opts.id != null)', 'const can = placeTag'],
  ['on("click", wrap', 'const under ='],
  ['(opts.plugins || [])', 'const series  ='],
  ['const legend     =', 'const cursor     ='],
  ['{drag: {y: mode == 2}}, ', 'opts.cursor)'],
  ['const showLegend =', 'const showCursor'],
  ['const markers    =', 'const mouseListeners'],
  ['if (mode == 1 || i > 0) {\n\t\t\tlet isTime', 'if (cursorOnePt || i > 0) {'],
  ['s.fillTo = ', 's.pxAlign = +'],
  ['\ts.fill   = fnOrSelf', 'if (showCursor) {\n\t\t\tactiveIdxs', 's._paths = null;\n}\n'],
  ['if (cursorOnePt) {\n\t\t\t\tif (i == 0)', 'if (i > 0)\n\t\t\t\tpt ='],
  ['function addSeries(', 'function initAxis'],
  ['self.redraw =', '// redraw() =>', 'self.redraw = () => {\nshouldConvergeSize = false;\ncommit();\n};\n'],
  ['let deferHooks', 'function commit('],
  ['// manual batching', 'function _commit('],
  ['if (select.show && shouldSetSelect)', 'if (showCursor && shouldSetCursor)'],
  ['if (legend.show && legend.live', 'viaAutoScaleX = false;\n\n\t\tqueued'],
  ['function toggleDOM', 'function _setScale('],
  ['function setSeries(', 'function posToVal('],
  ['self.setCursor =', 'function updateCursor('],
  ['legend.idx = idx;', '}\n\n\t\t_fire !== false', 'shouldSetLegend = false;\n'],
  [
    'function fire(',
    'const syncOpts',
    'function fire(evName) {\nhooks[evName]?.forEach(fn => fn(self));\n}\n',
  ],
  ['uPlot.assign =', 'uPlot.pxRatio = pxRatio;'],
  ['{\n\tuPlot.fmtDate', 'export {'],
  // cursor
  ['function cursorPointSize', 'const cursorOpts'],
  ['lock: false,\n', 'points: {\n\t\tone'],
  ['one:    false', 'show:   cursorPointShow'],
  ['size:   cursorPointSize,', 'width:  0'],
  ['bind: {\n', 'hover: {'],
  [
    'const mouseListeners',
    'let fullWidCss',
    'function onMouse(ev, targ, fn) {\non(ev, targ, e => { e.target == targ && fn(e); });\n}\n',
  ],
  ['let prox = hov.prox', '// TODO: only scan'],
  ['let _prox = prox', 'let cursorLft'],
  ['let cursorLft', 'let xValues'],
  ['let xValues', 'let yValues'],
  ['if (bias == 0 || bias == -1) {', 'j = cursorIdx;', '{\n'],
  ['if (bias == 0 || bias == 1) {', 'j = cursorIdx;', '{\n'],
  ['if (withProx) {\n\t\t\t\t\t\tlet lft', '{\n\t\t\t\t\t\tidx2 ='],
  ['else if (withProx)', 'return idx2;'],
  ['const focus = self.focus', '// series-intersection'],
  ['let rawMouseLeft0;', 'let mouseLeft1;'],
  ['let dragging', 'if (showCursor) {\n\t\tif (cursor.x)'],
  ['if (cursor.y)', 'mouseLeft1 = cursor.left', 'vCursor = xCursor;\n'],
  ['rawMouseLeft1 = mouseLeft1;', 'cursor.left = mouseLeft1'],
  ['closestDist = inf;', '// TODO: extract'],
  ['let _ptLft = -10;', 'for (let i = mode == 2'],
  ['if (cursorFocus && yVal2', 'if (shouldSetLegend || cursorOnePt)'],
  ['let hPos, vPos;', 'let pt = cursorPts[i];', '{\nconst size = points.size();\n'],
  [
    'cursorPtsLft[i] = ptLft;',
    '}\n\t\t\t\t\t\t}\n',
    `cursorPtsLft[i] = xPos2;
cursorPtsTop[i] = yPos;
elSize(pt, size, size, true);
elColor(pt, points.fill(self, i), points.stroke(self, i));
elTrans(pt, ceil(xPos2), ceil(yPos), plotWidCss, plotHgtCss);
`,
  ],
  ['// if only using single', '}\n\n\t\t// nit'],
  ['// nit: cursor.drag', 'if (src == null) {\n\t\t\tif (_pub)'],
  ['if (cursorFocus) {\n\t\t\t\tlet shouldPub', '}\n\n\t\tif (shouldSetLegend)'],
  ['if (dragging && e', 'cacheMouse(e'],
  ['if (initial) {', 'mouseLeft1 = _l;', '{\n'],
  ['function hideSelect', 'function mouseLeave'],
  ['let _dragging', 'mouseLeft1 = -10;\n\t\tmouseTop1 = -10;\n\n\t\tactive'],
  ['if (_dragging)', '}\n\n\tfunction dblClick'],
  ['function dblClick', 'function syncPxRatio'],
  ['events.mousedown', 'events.mousemove'],
  ['events.mouseup', 'if (showCursor) {\n\t\tonMouse'],
  ['onMouse(mousedown', 'onMouse(mousemove'],
  ['onMouse(dblclick', 'cursorPlots.add'],
  ['filters: {', 'scales: [xScaleKey'],
  [', seriesIdxMatcher],', '\n\t\tvalues', '],'],
  ['if (syncOpts.match.length', 'cursor.sync ='],
  ['if (syncOpts.filters.pub', 'sync.pub(type'],
  ['if (syncOpts.filters.sub', 'events[type]'],
  ['mouseListeners.clear', 'off(dppxchange, win, syncPx'],
  ['legendTable?.', 'fire("destroy'],
  ['if (then) {', 'return self;', 'then.appendChild(root);\n_init();\n'],

  // what is left of it: parts that are asked for once, and choices that options never make
  ['mode: ifNull', '};\n\n\tconst mode'],
  ['const mode = self.mode;', 'function getHPos'],
  ['const mode = u.mode;', 'const series = u.series'],
  ['const pxAlign = +ifNull', 'const series  ='],
  ['let pxRound = series.pxRound;', 'let pixelForX'],
  [
    '// decimate when',
    'for (let i = dir == 1 ? idx0 : idx1; i >= idx0 && i <= idx1; i += dir) {\n\t\t\t\t\tlet yVal = dataY[i];\n\n\t\t\t\t\tif (yVal === null)',
    '{\n',
  ],
  ['let lineTo, drawAcc;', 'const dir =', 'const lineTo = lineToH;\n'],
  ['function _drawAcc', 'function linear('],
  ['function pxRoundGen', '// orientation-inverting', 'const pxRound = round;\n'],
  ['const drawOrderMap', 'function initValToPct'],
  ['drawOrder.forEach', 'fire("draw")', 'drawAxesGrid();\ndrawSeries();\n'],
  ['// TODO: init scales from facets', 'const scaleX ='],
  ['let converged = false;\n\n\t\tlet cycleNum', '}\n\n\tfunction setSize', 'axesCalc();\n'],
  ['let converged = true;', 'axes.forEach((axis, i) => {'],
  ['if (!axis.show)\n\t\t\t\treturn', 'let scale ='],
  ['if (scale.min == null) {', 'let side ='],
  ['axis.size(self, null, i, 0)', ';', 'ceil(axis.size())'],
  ['let oldSize = axis', '});\n\n\t\treturn converged'],
  ['return converged', '}\n\n\t'],
  ['if (!axis.show || !axis._show)', 'let side ='],
  ['const setCursorEvent', 'cursor.idxs ='],
  ['cursor._lock = false', '// series-intersection', 'const { points } = cursor;\n'],
  [
    'let pt = points.show(self, si);',
    'elTrans(pt, -10',
    'const pt = cursorPointShow(self, si);\naddClass(pt, CURSOR_PT);\n{\n',
  ],
  ['s.width  = s.width', 's._paths = null', 's.stroke = fnOrSelf(s.stroke);\ns.paths = linearPath;\n'],
  ['if (opts.min > opts.max) {', 'if (dataLen > 1 && opts.min'],
  ['Object.defineProperty(self,', 'function syncRect'],
  ['if (can)\n', 'let dim = plotWidCss'],
  ['let size = o.size(self, si);', 'setStylePx(pt, WIDTH', 'const { size } = o;\n'],
  ['let width = o.width(', 'return pt;'],
  ['function cursorPointFill', 'const cursorOpts'],
  ['width:  0,\n', '},\n\n\thover'],
  ['hover: {', 'left: -10'],
  ['if (cursor.dataIdx == null) {', 'cursor.idxs ='],
  ['cursor.dataIdx(self, i, idx, valAtPosX)', ';\n\t\t\t\tlet yVal2', 'idx'],
  ['const size = points.size();', 'let pt = cursorPts'],
  ['elSize(pt, size', 'elTrans(pt, ceil(xPos2)', 'pt.style.background = s._stroke;\n'],
  ['if (syncKey != null) {', 'pubSync(mousemove', 'syncOpts.values[0] = posToVal(mouseLeft1, xScaleKey);\n'],
  ['setCursorEvent(e);', 'if (e != null) {'],
  [
    'let [xKey, yKey] =',
    '}\n\n\t\tif (snap',
    '_l = getHPos(src.cursor.sync.values[0], scaleX, plotWidCss, 0);\n_t = 0;\n',
  ],
  [' && (src == null || src.cursor.event.type == mousemove)', ') {'],
  ['setCursorEvent(e);', 'mouseLeft1 = -10'],
  ['setCursorEvent(e);', 'syncRect(false);\n\t\t});'],
  ['setSeries: false,\n', 'values: [null, null]'],
  ['distr: 1,', 'min: null,\n\tmax: null,\n\tdir'],
  ['time: FEAT_TIME,', 'auto: true'],
  ['time: false,\n', 'ori: 1'],
  ['sorted: 1,\n//', 'min: inf'],
  ['{\n\tuPlot.join', 'export {'],
  ['let mag = roundDec(pow(', 'for (let i = 0; i < mults'],
  ['const TypedArray', 'const __proto__'],
  ['let val = o.find(', 'else if (o instanceof', 'out = o.slice();\n}\n'],
  ['else if (o instanceof', 'else if (_isObj(o))'],
  ['let d2 = initY', 'd2.map(', 'return '],
  ['d2', '.map(', 'd'],
  ['fill: null, clip: null, band: null', '};\n\t\t\tconst stroke', 'clip: null'],
  ['_paths.gaps = gaps;', '_paths.clip'],
  ['opts = copy(opts);', 'const series'],
  [
    'function addClass',
    'function setStylePx',
    'function addClass(el, c) {\nc && el.classList.add(c);\n}\nfunction remClass(el, c) {\nel.classList.remove(c);\n}\n',
  ],
  [
    'let ctxStroke, ctxFill',
    'function accScale',
    `function setCtxStyle(stroke, width, dash, cap, fill) {
ctx.strokeStyle = stroke;
ctx.fillStyle = fill ?? transparent;
ctx.lineWidth = width;
ctx.lineJoin = "round";
ctx.lineCap = "butt";
ctx.setLineDash(dash ?? EMPTY_ARR);
}
function setFontStyle(font, fill, align, baseline) {
ctx.font = font;
ctx.fillStyle = fill;
ctx.textAlign = align;
ctx.textBaseline = baseline;
}
`,
  ],
  ['ctxStroke = ctxFill =', 'syncRect(true)'],
  [
    'function makeIndexOfs',
    'function getMinMax',
    `function nonNullIdxs(data, from, to) {
let i0 = -1, i1 = -1;
for (let i = from; i <= to; i++) if (data[i] != null) {
if (i0 < 0) i0 = i;
i1 = i;
}
return [i0, i1];
}
`,
  ],
  ['let getEdgeIdxs =', 'let _min =', '[_i0, _i1] = nonNullIdxs(data, _i0, _i1);\n'],
  ['const alignGaps', 'return (u, seriesIdx'],
  [', alignGaps', '));'],
  ['if (sc.ori == 1) {', 'let _min = sc._min'],
  ['if (predicate(v)) {', 'if (v < _min)', 'if (v != null) {\n'],
  ['idx: null,\n\tdataIdx', '};\n\n'],
];

/** What always holds here, in uPlot's words. */
const FACTS: readonly (readonly [expression: RegExp, value: string])[] = [
  [/typeof window != 'undefined'/g, 'true'],
  [/typeof queueMicrotask == "undefined" \? [^:]+ : /g, ''],
  [/\bmode == 1\b/g, 'true'],
  [/\bmode == 2\b/g, 'false'],
  [/\bscaleX\.dir \* \(scaleX\.ori == 0 \? 1 : -1\)/g, '1'],
  [/\b(?:scaleX|sx)\.ori == 0/g, 'true'],
  [/\bscaleX\.ori == 1/g, 'false'],
  [/\bdir == 1\b/g, 'true'],
  [/\b(?:scale|sc)\.dir == -1/g, 'false'],
  [/(?:\b\w+\.)?\b(?:distr|xScaleDistr) +[=>]= +(?:2|3|4|100)\b/g, 'false'],
  [/\b\w+\.from == null/g, 'true'],
  [/\bisTime\b/g, 'false'],
  [/\b(?:showLegend|cursorFocus|cursorOnePt)\b/g, 'false'],
  [/\blegend\.live\b/g, 'true'],
  [/let bitwise = [^;]+;/, ''],
  [/bitwise \? (\(lo \+ hi\) >> 1) : [^;]+/, '$1'],
  [/base == 10 \? ([^:;]+) : [^;]+/g, '$1'],
  [/\balign [<>]= 0 && /g, ''],
  [/\bcan \? (\w+) : \w+/g, '$1'],
  [/, fastIsObj\)/, ')'],
  [/\bsorted == -?1\b/g, 'false'],
  [/\bside == 0 \|\| /g, ''],
  [/\bshouldSetSelect\b/g, 'false'],
  [/let false = false;/g, ''],
  [/\b(?:s\.)?pxAlign == 1\b/g, 'true'],
  [/\bselect\.show\b/g, 'true'],
  [/\bselect\.over \? over : under\b/g, 'over'],
  [/\bcursor\.x\b/g, 'true'],
  [/\baxis\.show && axis\._show\b/g, 'true'],
  [/\b(?:s|axis|grid)\.show\b/g, 'true'],
  [/axis\._show = true;/, ''],
  [/\b[wx]?sc\.auto\(self, viaAutoScaleX\)/g, 'true'],
  [/sc\.auto = fnOrSelf\(sc\.auto\);/, ''],
  [/(?:let )?viaAutoScaleX = (?:true|false);/g, ''],
  [/if \(cursor\._lock\)\s+return;/g, ''],
  [/hCursor && elTrans\([^;]+;/g, ''],
  [/ori == 0 \? rectH : rectV/g, 'rectH'],
  [/(?:_fire !== false && )?fire\("(?!drawAxes"|draw"|setCursor")[^;]+;/g, ''],
];

/** Parts of a chart that are never there. */
const UNUSED_PARTS = /legend|title|axis|cursor-y|u-vt|inline|live|series|marker/;

export function leanUplot(): Plugin {
  return {
    name: 'lean-uplot',
    apply: 'build',
    enforce: 'pre',
    transform(code, id) {
      if (id.endsWith('/uPlot.esm.js')) return leanScript(code);
      return id.includes('/uPlot.min.css') ? leanSheet(code) : null;
    },
  };
}

export function leanScript(code: string): string {
  return FACTS.reduce((left, [expression, value]) => settle(left, expression, value), cutAll(code, CUTS));
}

function leanSheet(css: string): string {
  // Words are on the canvas alone, in the page's font.
  const rules = css.replace(/font-family:[^;]*;/, '').split('}');
  return rules
    .map((rule) => rule.split('{'))
    .map(([selectors = '', declarations = '']) => {
      const used = selectors.split(',').filter((selector) => !UNUSED_PARTS.test(selector));
      return used.length === 0 || declarations === '' ? '' : `${used.join()}{${declarations}}`;
    })
    .join('');
}

function settle(code: string, expression: RegExp, value: string): string {
  const lean = code.replace(expression, value);
  if (lean === code) throw new Error(`uPlot has changed: no ${String(expression)}`);
  return lean;
}
