// @ts-check
/**
 * Why this file exists: the conversation with HiGHS, in its worker and in Node. Text goes in as the engine wrote it,
 * numbers come out as HiGHS gives them; what they mean is decided in Python (engine/planning/hand_search.py).
 *
 * `values` are the columns' in the order of the text, none without a solution; what is not finite yet is null.
 * @typedef {{found: number | null, bound: number | null}} SoFar
 * @typedef {{values: number[], bound: number | null}} Solved
 */

/** Nobody is kept waiting for ever: what was found and proved until then is taken. */
const LONGEST_S = 300;
/** How often HiGHS tells how far it is. */
const NEWS_S = 0.5;
/** @typedef {Awaited<ReturnType<typeof import('../vendor/highs/highs.mjs').default>>} Highs */

/**
 * @param {Highs} highs
 * @param {string} text an integer programme in LP format
 * @param {(news: SoFar) => void} tell
 * @returns {Solved}
 */
export function solve(highs, text, tell) {
  return highs.withModel({ format: 'lp', data: text }, (model) => {
    model.options.set({ log_to_console: false, time_limit: LONGEST_S, mip_min_logging_interval: NEWS_S });
    model.run({
      [highs.constants.callbackType.mipLogging]: ({ data }) => {
        tell({ found: finite(data.mip_primal_bound), bound: finite(data.mip_dual_bound) });
        return undefined;
      },
    });
    const { feasible } = highs.constants.solutionStatus;
    const isSolved = model.info.get('primal_solution_status') === feasible;
    return {
      values: isSolved ? [...model.getSolution().colValue] : [],
      bound: finite(model.info.get('mip_dual_bound')),
    };
  });
}

/** JSON knows no infinity. @param {unknown} value */
const finite = (value) => (typeof value === 'number' && Number.isFinite(value) ? value : null);
