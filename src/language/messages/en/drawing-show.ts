/** What the drawing can show besides the position as it is. */
export const drawingShow = {
  planned: 'The plan, with the present position dashed',
  before: 'What was before the trouble, dashed',
  causes: 'Where the likeliest causes act',
} as const;
