// Takes the product from its build rather than from its sources, which start three times as slowly.
import { register } from 'node:module';

const hook = `export const resolve = (specifier, context, next) =>
  next(specifier.replace(/^((?:\\.\\.\\/)+)src\\//, '$1dist/'), context);`;
register(`data:text/javascript,${encodeURIComponent(hook)}`);
