# Training young boars.

lesson-visit = Visit
lesson-session = Session
score-0 = No interest
score-1 = Sniffs
score-2 = Aggressive
score-3 = Mounts
score-4 = Extends
score-5 = Collected
score-unsaid = score not said
score-of = { $score }, { $what }
mishap-slip = He slipped
mishap-rough = Rough handling
touch-body = Touch on the body
touch-sheath = Touch on the sheath
lure-sow-scent = Sow scent
lure-boar-scent = Another boar’s scent
lure-others = Watched others
trained-not-timed = not timed
early-keen = Mounts pen mates already
early-needed = Needed soon
early-advised = Vet or breeder advises
early-age-wrong = Birth date wrong or missing
