/** Pages that say what went wrong. */
export const fault = {
  '400': 'This cannot be read',
  '400-text': 'The address or the form does not say what is wanted. Go back and try again.',
  '403': 'This form came from elsewhere',
  '403-text':
    'Forms are taken only from pages of this server. Open the page again and send the form from there.',
  '404': 'There is no such page',
  '404-text': 'The address may be mistyped or out of date.',
  '405': 'This page cannot be used that way',
  '405-text': 'Open the page itself and use what is on it.',
  '413': 'This is too large',
  '413-text': 'A case file has at most 60 000 characters, a table of breaks 16 MB.',
  '415': 'This is not a form',
  '415-text': 'Only forms of these pages are taken here.',
  '429': 'Too many requests',
  '429-text': 'Wait a little, then try again.',
  '500': 'Something went wrong here',
  '500-text':
    'The fault is in the program, not in what you typed. Your case is still in the address of the page before: go back to it. If it happens again, tell whoever looks after this server the reference below.',
  busy: 'The server is busy',
  'too-long': 'This takes too long',
  'busy-text':
    'More cases are being worked out just now than the server can do at once. Nothing is lost. {kept}',
  'too-long-text': 'The case could not be worked out in time. Try again in a moment. {kept}',
  'kept-address': 'What you typed is in the address of this page.',
  'kept-page': 'What you typed is kept in this page, files apart: send it again.',
  'busy-part': 'The server is busy with other cases. It is asked again in {wait}; what you typed is kept.',
  'too-long-part':
    'This takes too long and was given up. What you typed is kept: change something, or try again in a moment. Reference:',
} as const;
