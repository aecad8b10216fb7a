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

boar-train = Training session
boar-train-go-on = Go on with the session
boar-trainings = Last training
training-title = Training
training-summary = { $n ->
    [0] Nobody is due today.
    [one] { $n } is due today.
   *[other] { $n } are due today.
}
training-nobody = Nobody is in training. A boar who had not worked when he was entered stands here.
training-due = Due today, in this order
training-waiting = Done or resting
training-not-yet = Not yet
training-two = two people
boar-two-people = Two people go in.
training-in-seven = { $n ->
    [one] { $n } session in seven days
   *[other] { $n } sessions in seven days
}
training-scores = Scores: { $scores }
training-picture = His sessions so far, the score of each, 0 to 5:
training-visits = Visits first
training-visits-why = { $n ->
    [0] No visit yet. He gets to know pen and people, 5 to 10 min a day.
    [one] Visited on { $n } day. Sessions begin once he is calm.
   *[other] Visited on { $n } days. Sessions begin once he is calm.
}
training-goes = In training
training-goes-why = { $n ->
    [one] { $n } session since { $day }, best { $best }.
   *[other] { $n } sessions since { $day }, best { $best }.
}
training-repeats = Practice
training-repeats-why = First success { $day }.
training-next = Next: { $day }.
training-settles = Not settled
training-settles-why = First success { $day }, and nothing since.
training-again = Training again
training-again-why = Not since { $day }. Best since then: { $best }.
training-double = Two records of training within an hour, perhaps one session written twice.
turn-planned = practice today
turn-free = due
turn-waits = till { $day }
turn-done = done today

advice-two-people = Two people go in: { $what }, { $day }.
advice-had-today = He had his session today. One a day.
advice-hot = He was hot today. He rests till tomorrow.
advice-rest = { $n } sessions running without interest. Rest him till { $day }.
advice-falling = His scores fall: { $scores }. Is he lame, hot, afraid?
advice-mishap = Last time: { $what }. Begin gently.
advice-slow = { $days } days, { $n } sessions, best { $best }. Many learn in 2 to 4 weeks; in print 3 to 5 in 100 never do. Nothing tells for certain which he is.

train-title = Train { $number }
train-quiet = Quiet, and no rough hand. At most { $n } min today.
train-early = Why so young?
train-early-why = Under the farm’s age, or of unknown age. Boars begun at 160 days gave fully at 13 to 14 months, those begun at 190 days at 10 to 11 (one trial, 2001). Whether it costs them for life is disputed. An experienced handler goes on with a reason.
train-go-session = Begin the session
train-go-visit = Begin a visit
train-after-session = He was trained: enter it
train-after-visit = He was visited: enter it
train-shake = When it is enough
train-shake-chip = Buzz
train-shake-why = It buzzes only after somebody tapped that he is down.
train-drop = Drop it
train-other-open = A session of boar { $number } is open.
train-over = He is out again
train-helper-taps = A helper may tap what he does. Nothing has to be tapped.
sight-down = Down again
sign-go-on = Go on
sign-go-on-why = At most { $n } min.
sign-mounted = Mounted
sign-mounted-why = Let him. Nobody interrupts him, also past { $n } min.
sign-aggressive-why = Board between you and him. If he bites or charges: out.
sign-enough-if = Enough?
sign-enough-if-idle-why = { $n } min. Enough for today if he shows no interest.
sign-enough-if-down-why = { $n } min. Enough for today unless he is mounted.
sign-enough = Enough for today
sign-enough-why = Lead him out quietly. The limit is { $n } min.
train-how-far = How far?
train-how-long = How long?
train-clock-ran = The clock ran for { $span }. No session lasts so long.
train-not-timed = Nobody looked
train-minutes-odd = { $n } min is over an hour. Is it right?
train-when = On which day?
train-touch = Touch taken?
train-lures = What drew him?
train-helper = Who helped?
train-counts = In his rest it counts as a collection.
today-training = { $n ->
    [0] Training
   *[other] { $n } due for training
}
unit-min = min
