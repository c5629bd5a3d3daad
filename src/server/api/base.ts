/** Under this address the API is reached; a change that breaks clients gets another number. */
export const API_BASE = '/api/v1';
