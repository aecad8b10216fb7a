### Counting at the bench: the ways to a figure, taps, what a count comes to.

counting-kept = Kept on this phone, not saved yet.
counting-other-saved = Somebody has saved another evaluation of this ejaculate since. Saving this one comes after it.
counting-drop = Throw away what is not saved
counting-drop-sure = Tap again: what was counted and answered here is gone for good
counting-now = Count now
counting-go-on = Go on counting: { $n } so far
counting-read = Read { $instrument }
counting-type = Type the figure
counting-unknown-error = Typed: how sure it is, nobody knows
counting-cannot-be = This count cannot be: more sperm than the squares can show, or more than semen holds. Look at count, squares and dilution.
counting-impossible = Cannot be
counting-between = { $low } to { $high }, with 95 %
counting-share-between = { $low } to { $high } % with 95 %, of { $n } cells.
counting-by-eye-coarse = By eye: 5 points up or down are usual.
counting-too-many = So many sperm cannot be in these squares at this dilution: at most { $most }. Look at count and squares.
counting-filling = Filling { $n }
counting-not-open = No count is open.

## Dilution
dilution-title = Diluted for counting
dilution-why = Parts of semen + parts of diluent. Tap each step.
dilution-none = No step: undiluted
dilution-other = Other
dilution-go = Go on with { $factor }
dilution-undiluted = Go on undiluted
dilution-less = Take the last step out
dilution-semen-parts = Parts of semen
dilution-diluent-parts = Parts of diluent
dilution-too-much = That is more than ×10,000, or more than 4 steps. Take a step out.
dilution-taken-for = { $found }, not { $taken }
dilution-taken-for-why = { $steps }: the part of semen counts too. Was it mixed like that, or made up to { $taken }?
dilution-change = Change the steps

## Tapping
tally-done = Done
tally-sound-on = Sound
tally-sound-off = Silent
tally-of = { $n } of { $target }
tally-place = Filling { $filling } · grid { $grid }, square { $square }
tally-replicate = Replicate { $n }
tally-sperm = Sperm
tally-in-square = { $n } in this square
tally-next-square = Next square
tally-filling-done = Filling done
tally-to-the-grids-end = Reached. Count to the end of this grid.
tally-at-whole-grid = Reached, at a whole grid. Stop here.
tally-cells-reached = Reached. Tap Done.
tally-motile = Motile
tally-not-motile = Not motile
class-normal = Normal
class-head = Head
class-proximal = Proximal droplet
class-distal = Distal droplet
class-tail = Tail
tally-square-full = A square shows no more than this. Dilute more and begin anew.
tally-enough = So many are enough: no more are taken. Tap Done.
tally-nothing-yet = Nothing was counted here yet.
tally-nothing-to-undo = There is nothing to take back.
tally-no-more = No more replicates are taken.

## What it comes to
sum-nothing = Nothing counted yet
sum-count-on = Count on
sum-take = Take it
sum-again = Throw away and count anew
sum-bring-back = Bring back what was thrown away
sum-second-filling = One more filling
sum-second-replicate = One more replicate
sum-diluted = Diluted { $dilution }.
sum-filling = Filling { $filling }: { $n } sperm in { $squares } squares.
sum-motile-of = Replicate { $replicate }: { $hits } motile of { $n }.
sum-classes = Replicate { $replicate }: { $classes }.
sum-agree = Both agree: { $apart } apart; up to { $allowed } is chance.
sum-disagree = They do not agree: { $apart } apart; up to { $allowed } is chance.
sum-agree-by-chance = Both agree: { $apart } apart, which chance alone makes in { $chance } of 100.
sum-disagree-by-chance = They do not agree: { $apart } apart, which chance alone makes in { $chance } of 100 only.
sum-fill-afresh = Mix the sample, dilute anew, and count two fresh fillings.
sum-count-afresh = Take two fresh drops and count both again.
sum-smear-afresh = Count both again, from a fresh smear.
sum-one-filling = One filling only: nobody can see a slip. Count a second one.
sum-one-replicate = One replicate only: nobody can see a slip. Count a second one.
sum-crowded = They lie so close that some hide others. Dilute more.
sum-few = Fewer than 200 in a filling.
sum-part-grids = A filling does not end at a whole grid.
sum-errors = Errors: counting { $counting } %, dilution { $dilution } %, chamber { $chamber } %.
sum-error-asked = Error of counting asked for
sum-enough = Enough was counted for { $asked } %.
sum-count-more =
    { $grids ->
        [one] Count { $n } more for { $asked } %: about { $grids } grid.
       *[other] Count { $n } more for { $asked } %: about { $grids } grids.
    }
sum-count-more-of-nothing = No sperm was found. { $n } would be needed for { $asked } %. Dilute less.
sum-others-exceed = Dilution and chamber leave { $other } %: a fresh dilution and filling helps more than counting on.

## Doubt
doubt-headline = Doubtful
doubt-unfit-so-far = So far it is not fit.
doubt-more-of = { $what }: count { $n } more.
doubt-stays-of = { $what }: so near the limit that counting settles nothing.
doubt-motile-below = True motility below { $bound } %: { $chance }.
doubt-abnormal-above = True abnormal above { $bound } %: { $chance }.
doubt-droplets-above = True droplets above { $bound } %: { $chance }.
doubt-count-more = Count { $n } more.
doubt-count-cells = Count { $n } cells.
doubt-stays = So near the limit that counting on settles nothing.
odds-rare = less than 1 in 1000
odds-one-in = 1 in { $n }
odds-in-ten = { $n } in 10
odds-likely = more than 19 in 20
odds-certain = almost certain

## Another chamber
chamber-neubauer = Improved Neubauer
chamber-of = Squares of { $nl } nL, { $squares } in a grid
chamber-side = Side of a square
chamber-depth = Depth of the chamber
chamber-grid-squares = Squares in a grid
chamber-grids = Grids in the chamber
chamber-why = It stands in the chamber's papers.
unit-mm = mm
unit-grids = grids
