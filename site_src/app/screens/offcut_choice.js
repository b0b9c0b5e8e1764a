// @ts-check
/** Why this file exists: whether offcuts are used, and in which order boards are opened. */
import { putInto } from '../desk.js';
import { select } from '../parts/field.js';

const ORDERS = /** @type {const} */ ([
  ['laying', 'Use offcuts, boards opened as they are laid'],
  ['saw', 'Use offcuts, boards opened as the saw is set'],
  ['none', 'Use no offcuts'],
]);

/** @param {any} cutting */
export const offcutChoice = (cutting) =>
  select({
    id: 'offcuts',
    label: 'Offcuts',
    value: cutting.offcuts === false ? 'none' : (cutting.board_order ?? 'laying'),
    options: ORDERS,
    take: (picked) =>
      putInto(
        'cutting',
        picked === 'none' ? { offcuts: false } : { offcuts: true, board_order: picked },
        ORDERS.find(([key]) => key === picked)?.[1] ?? '',
      ),
  });
