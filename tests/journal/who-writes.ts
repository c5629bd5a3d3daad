/** Who writes in tests, at a time. */
export const by = (at?: string, who = 'Ruth', key?: string) => ({
  who,
  ...(at === undefined ? {} : { at }),
  ...(key === undefined ? {} : { key }),
});
