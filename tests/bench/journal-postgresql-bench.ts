/** The benchmark of the journal once more, on PostgreSQL: 100 000 cases and 10 million break events. */
process.argv.splice(2, process.argv.length, '1', 'postgresql');
await import('./journal-bench.js');
