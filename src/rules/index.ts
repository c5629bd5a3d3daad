/** The public face of the rules: what the server and the command line use. */
export type * from './diagnosis/types.js';
