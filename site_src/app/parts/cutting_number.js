// @ts-check
/** Why this file exists: a number of the job's cutting section, with what it usually is where nobody has set it. */
import { desk, putInto } from '../desk.js';
import { numberField, written } from './field.js';

/** Key, label, unit, the usual value and a hint. @param {readonly [string, string, string, number, string]} field */
export function cuttingNumber([key, label, unit, usual, hint]) {
  const value = desk.job?.doc.cutting?.[key] ?? usual;
  return numberField({
    id: key,
    label,
    unit,
    hint,
    value,
    take: (next) => next === value || putInto('cutting', { [key]: next }, `${label} ${written(next)}`),
  });
}
