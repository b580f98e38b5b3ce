/** The engine and its questions, which the page brings: see runtime/practice_program.py. */
export const program = () =>
  /** @type {{HB_PRACTICE?: string}} */ (/** @type {unknown} */ (globalThis)).HB_PRACTICE ?? '';
