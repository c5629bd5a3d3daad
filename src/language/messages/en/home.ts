/** The first page. */
export const home = {
  heading: 'Why does the frame run badly, and what comes first?',
  lead: 'Say what you see at the rotor spinning frame. You get the likely causes with their reasons, the next thing to look at, and what to change, with what it costs.',
  which: 'Which frame?',
  'none-yet': 'No frame has been entered yet: add the first one, or start without.',
  own: 'The frames of the mill, with the setup last recorded for each.',
  demo: 'This is the demo mill, invented to try things on. Its frames have their setup filled in.',
  add: 'Add a frame',
  'add-where': 'To the journal',
  'add-text': 'It then stands here with its setup, its history and its cases.',
  other: 'Another frame',
  'other-how': 'Enter its setup',
  'other-text':
    'As much of it as you know: fibre, count and end use go furthest. What you leave out is assumed, and said so.',
  straight: 'Straight to the signs',
  'straight-how': 'Without any setup',
  'straight-text': 'The setup can follow later.',
  example: 'Try an example',
  try: 'Try: {title}',
} as const;
