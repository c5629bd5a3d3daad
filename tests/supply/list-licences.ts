/** Prints what the product rests on: licence, number of packages, packages. With `--all` the tools of the workshop as well. */
import { lockedPackages } from './packages.js';

const all = process.argv.includes('--all');
const byLicence = new Map<string, string[]>();
for (const { name, version, licence, dev } of lockedPackages())
  if (all || !dev) byLicence.set(licence, [...(byLicence.get(licence) ?? []), `${name} ${version}`]);
for (const [licence, packages] of [...byLicence].sort(([, a], [, b]) => b.length - a.length))
  console.log(`${licence}: ${packages.length}\n  ${packages.sort().join('\n  ')}\n`);
