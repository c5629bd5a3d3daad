/** How somebody acted. */
export const auditWay = {
  session: 'signed in',
  token: 'with a token',
  open: 'not signed in',
  command: 'command line',
  program: 'the program itself',
} as const;
