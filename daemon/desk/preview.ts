import type { Design } from '../design/design.js';
import { designKeys, editedDesign } from '../design/edit-design.js';
import { FileProblems, loadDesign } from '../design/load.js';
import { formOf } from '../design/form.js';
import { groupIn } from '../design/form-choices.js';
import { yamlValue } from '../design/yaml-text.js';
import { SupplyError } from '../predict/engine/supply-error.js';
import { predict } from '../predict/predict.js';
import type { Advice, DesignChange, Prediction } from '../predict/prediction.js';
import type {
  AdviceView,
  ChangeView,
  DesignPrediction,
  DesignPreview,
  DesignProblem,
  PreviewRequest,
} from '../serve/design-messages.js';

/** Bands from so few move by a few percent of their width when the full cloud follows. */
const QUICK_DRAWS = 128;

/** What a design says with the edits in it, and what comes of it. Whatever is wrong with it is among the problems. */
export function previewOf(request: PreviewRequest, file: string): DesignPreview {
  let { text } = request;
  try {
    text = editedOrAsIs(request);
    const design = loadDesign(text, file);
    const written = yamlValue(text);
    return { text, form: formOf(written), ...predicted(design, written, request) };
  } catch (error) {
    if (!(error instanceof FileProblems)) throw error;
    return {
      text,
      form: formOf(yamlValue(text)),
      problems: error.problems.map(problemOf),
      prediction: null,
    };
  }
}

/** Edits can't be put into what is no YAML; then it stays as it is and its problems are told. */
function editedOrAsIs({ text, edits }: PreviewRequest): string {
  const written = yamlValue(text);
  return edits.length === 0 || Object.keys(groupIn(written)).length === 0 ? text : editedDesign(text, edits);
}

function predicted(
  design: Design,
  written: unknown,
  { load, draws }: PreviewRequest,
): Pick<DesignPreview, 'problems' | 'prediction'> {
  try {
    const prediction = predict(design, { load, ...(draws === 'quick' && { draws: QUICK_DRAWS }) });
    return { problems: [], prediction: slim(prediction, draws, written) };
  } catch (error) {
    if (!(error instanceof SupplyError)) throw error;
    return { problems: [{ line: 1, key: '', words: error.message }], prediction: null };
  }
}

function problemOf({ file, line, key, text }: FileProblems['problems'][number]): DesignProblem {
  const place = key === '' ? `${file}:${line}: ` : `${file}:${line} ${key}: `;
  return { line, key, words: text.startsWith(place) ? text.slice(place.length) : text };
}

function slim(prediction: Prediction, draws: PreviewRequest['draws'], written: unknown): DesignPrediction {
  const { points, parts, advice, assumed, load } = prediction;
  return {
    load,
    draws,
    points: Object.values(points).map(({ id, label, unit, low, typical, high, limits }) => ({
      id,
      label,
      unit,
      low,
      typical,
      high,
      limits,
    })),
    parts,
    advice: advice.map((one) => adviceView(one, written)),
    assumed,
  };
}

function adviceView(advice: Advice, written: unknown): AdviceView {
  const { finding, about, severity, sentence, reason, cure, cures } = advice;
  return {
    finding,
    about,
    severity,
    sentence,
    reason,
    cure,
    cures: cures.map(({ words, worsens, changes }) => ({
      words,
      worsens,
      changes: changes.map((change) => changeView(change, written)),
    })),
  };
}

function changeView({ key, value }: DesignChange, written: unknown): ChangeView {
  const path = designKeys(key);
  const before = path.reduce<unknown>((inner, part) => groupIn(inner)[part], written);
  return { key, path, value, before: before === undefined ? null : inWords(before), after: inWords(value) };
}

function inWords(value: unknown): string {
  if (typeof value !== 'object' || value === null) return String(value);
  return Object.entries(value)
    .map(([name, inner]) => `${name} ${inWords(inner)}`)
    .join(', ');
}
