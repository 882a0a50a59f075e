import { ready } from '../bin/ready.js';

/** Builds the command once, before the tests that run it. */
export default ready;
