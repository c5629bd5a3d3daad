import { Hono } from 'hono';
import { type Limits, startLimits } from '../../access/limits.js';
import type { AccessSettings } from '../../access/settings.js';
import type { Site } from '../../site.js';
import { accountPages } from './accounts.js';
import { auditPages } from './audit.js';
import { ownAccountPages } from './own-account.js';
import { providerPages } from './provider.js';
import { setPasswordPages } from './set-password.js';
import { signInPages } from './sign-in.js';
import { tokenPages } from './tokens.js';

/** Signing in, the own account, and what administrators look after. */
export function accessPages(site: Site, settings: AccessSettings, limits: Limits = startLimits()): Hono {
  const app = new Hono();
  app.route('/', signInPages(site, settings, limits));
  app.route('/', providerPages(site, settings));
  app.route('/', setPasswordPages(site, settings));
  app.route('/', ownAccountPages(site, settings));
  app.route('/', accountPages(site, settings));
  app.route('/', tokenPages(site));
  app.route('/', auditPages(site));
  return app;
}
