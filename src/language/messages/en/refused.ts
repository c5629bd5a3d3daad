/** What the journal refuses, and why. */
export const refused = {
  because: 'This cannot be recorded: {why}.',
  'case-begins': 'a case begins with being opened, and that step cannot be withdrawn',
  'case-open': 'the case is open already',
  'case-closed-diagnose': 'the case is closed; reopen it to diagnose it further',
  'case-closed-step': 'the case is closed, so no "{step}" can follow; reopen it first',
  'trial-spoilt': 'a trial is running, and a further change would spoil it; finish the trial first',
  'trial-already': 'a trial is running already; finish it first',
  'trial-running': 'a trial is running; finish it first',
  'nothing-to-try': 'there is nothing to try yet; record the action that is being tried first',
  'no-trial': 'no trial is running',
  'cannot-follow': '"{step}" cannot follow while the case is {state}',
  'confirmed-nothing': 'without a root cause nothing can have been confirmed {how}',
  'beside-root': 'contributing causes stand beside a root cause; name the root cause',
  'say-how': 'say how the root cause was confirmed: by-trial, by-part, by-look or unconfirmed',
  'beside-itself': '"{cause}" is the root cause and cannot stand beside itself',
  'needs-trial': 'confirmed by trial needs a finished trial that went better',
  'needs-part': 'confirmed by a part needs the check or action in which the part was exchanged',
  'needs-look': 'confirmed by looking needs the check in which it was seen',
  'found-before': '{time} as the time when the cause was found lies before the case was opened, {opened}',
  'fixed-before':
    '{time} as the time when the frame ran well again lies before the case was opened, {opened}',
  'diagnosis-kept': 'A kept diagnosis is what was said at the time and cannot be corrected; make a new one.',
  'step-turned': 'A step "{step}" can be corrected or withdrawn, but not turned into "{into}".',
  'complaint-begins': 'a complaint begins with being logged',
  'complaint-closed': 'the complaint is closed; reopen it first',
  'complaint-logged': 'the complaint has been logged already',
  'complaint-open': 'the complaint is open already',
  'nothing-to-verify': 'there is no corrective action yet that could be verified; record it first',
  'closing-needs': 'closing needs {what}; record it, or give the reason why it is missing',
  'a-root-cause': 'a root cause',
  'a-corrective': 'a corrective action',
  'a-verification': 'a verification',
  'photos-full': 'The complaint "{id}" has {most} photos already. Withdraw one first.',
  'no-pictures':
    'Pictures cannot be read on this computer: the package that does it has no build for it. Everything else works.',
  'course-not-open': 'This course is not open to trainees. Ask the trainer to open it.',
  'setup-corrected':
    'The setup entry "{id}" has been corrected or withdrawn already. Correct the entry that took its place.',
  taken: 'There is a {kind} "{id}" already. Choose another id, or change that {kind}.',
  'token-taken': 'There is a token "{name}" already. Choose another name, or revoke that one first.',
  'not-held': 'The knowledge version {id} is not held back, so there is nothing to accept.',
  'not-held-here':
    'The knowledge version {version} is not held back here; open the page again to see how things stand.',
  'last-administrator':
    'This is the last administrator. Make another one first, so that somebody can look after the accounts.',
  'link-gone':
    'This link is no longer good: it was used, it is too old, or a newer one was made. Ask for a new one.',
  blocked: 'The account “{name}” is blocked. Unblock it first.',
  'not-there': 'There is no {kind} "{id}" in the journal.',
  'key-used':
    'The key "{key}" was used at {at} for a different request. Make a new key for each new request.',
  'batch-used':
    'The batch "{batch}" was taken in at {at} with other content. Give each batch an id of its own.',
  stale:
    'The {kind} "{id}" was changed meanwhile: you saw version {seen}, it is now at {present}; look at what changed and record yours again',
  'stale-by':
    'The {kind} "{id}" was changed meanwhile by {who}: you saw version {seen}, it is now at {present}; look at what changed and record yours again',
  'provider-no-role': 'The provider gives you no role here. Ask whoever looks after it.',
  'provider-blocked': 'This account is blocked.',
  'provider-name': 'The name that the provider tells cannot be used here.',
  'provider-not-bound': 'There is an account “{name}” already that is not bound to the provider.',
  'provider-no-account':
    'There is no account for you here yet. Ask an administrator of Peelpoint to make one.',
  'provider-same-name': 'Another account shows the same name already. Ask an administrator of Peelpoint.',
} as const;

/** Kinds of thing that the journal keeps, as they are named in sentences. */
export const keptKind = {
  frame: 'frame',
  yarn: 'yarn',
  lot: 'lot',
  case: 'case',
  complaint: 'complaint',
  course: 'course',
  knowledge: 'knowledge',
  'practice-case': 'practice-case',
  'practice case': 'practice case',
  'version of the practice case': 'version of the practice case',
  step: 'step',
  diagnosis: 'diagnosis',
  attempt: 'attempt',
  'setup entry': 'setup entry',
  photo: 'photo',
  'photo in view': 'photo in view',
  token: 'token',
  'token in use': 'token in use',
  'knowledge version': 'knowledge version',
  account: 'account',
} as const;
