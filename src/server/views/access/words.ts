import { ROLES, type Role, TOKEN_RIGHTS, type TokenRight } from '../../../journal/index.js';
import { wordTable } from '../../../language/say.js';

/** What roles are called. */
export const ROLE_NAMES: Readonly<Record<Role, string>> = wordTable('role', ROLES);

/** What somebody with a role may do. */
export const ROLE_ABOUT: Readonly<Record<Role, string>> = wordTable('role-about', ROLES);

/** Rights of a token in words. */
export const TOKEN_RIGHT_WORDS: Readonly<Record<TokenRight, string>> = wordTable('token-right', TOKEN_RIGHTS);
