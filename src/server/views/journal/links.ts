/** The address with some parameters set, or taken out where empty. */
export function withParams(
  path: string,
  params: URLSearchParams,
  changes: Readonly<Record<string, string>>,
): string {
  const next = new URLSearchParams(params);
  for (const [name, value] of Object.entries(changes)) {
    if (value === '') next.delete(name);
    else next.set(name, value);
  }
  for (const [name, value] of [...next]) if (value === '') next.delete(name);
  const query = next.toString();
  return query === '' ? path : `${path}?${query}`;
}
