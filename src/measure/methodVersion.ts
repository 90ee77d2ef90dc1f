/** The version of the measuring: raised whenever the same stills would give other numbers. */
export const METHOD_VERSION = '1'
