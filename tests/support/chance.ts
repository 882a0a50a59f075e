import fc from 'fast-check';

/**
 * Properties draw new examples at every run, so that they go on looking. A gate has to answer the same for the same
 * code: it names a seed in `FAST_CHECK_SEED`.
 */
const { FAST_CHECK_SEED: seed } = process.env;
if (seed !== undefined) fc.configureGlobal({ seed: Number(seed) });
