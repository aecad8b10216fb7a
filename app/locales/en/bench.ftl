### The bench: evaluating, doses, sows.

colour-milky = Milky
colour-cream = Cream
colour-watery = Watery
colour-yellow = Yellow
colour-pink = Pink
colour-brown = Brown
smell-normal = Normal
smell-urine = Urine
smell-foul = Foul

technique-intracervical = Intracervical
technique-post-cervical = Post-cervical
technique-deep-uterine = Deep uterine
count-as-total = All sperm
count-as-motile = Motile sperm
count-as-motile-normal = Motile and normal sperm

## What waits
bench-empty = Nothing waits.
bench-batches = Semen batches
bench-missing = This collection is not on this phone.
bench-of = Boar { $number } · { $what }
bench-age = Collected { $span } ago
batch-doses = { $n ->
    [one] { $n } dose
   *[other] { $n } doses
}
batch-use-by = use before { $when }
batch-over = past use since { $when }

## Evaluating
measure-concentration = Concentration
measure-motile = Motility
measure-abnormal = Abnormal
measure-droplets = Droplets
measure-colour = Colour
measure-smell = Smell
measure-blood = Blood?
measure-pus = Pus?
measure-urine = Urine?
measure-counted = counted
measure-by-eye = by eye
measure-take-counted = Take: counted, 200 cells
measure-take-by-eye = Take: judged by eye
measure-chamber = Counted in a chamber
measure-count = Sperm counted
measure-squares = Squares of 4 nL counted
measure-diluent = Parts of diluent to 1 part of semen
unit-parts = parts

verdict-fit = Fit
verdict-not-measured = Not measured
verdict-unfit = Not fit
verdict-waits = not evaluated yet
rule-motile-missing = Motility not measured.
rule-abnormal-missing = Abnormal not measured.
rule-droplets-missing = Droplets not measured.
forbids-latex = Latex glove.
forbids-blood = Blood.
forbids-pus = Pus.
forbids-urine = Urine.
forbids-foul = Foul smell.

## A semen batch and its use
batch-missing = This semen batch is not on this phone.
batch-left = { $n ->
    [one] { $n } dose left
   *[other] { $n } doses left
}
batch-made = { $n } made of { $ml } mL, { $technique }.
batch-of = Boars: { $boars }
batch-use = Use now
batch-used = Used on
batch-withdrawal = Antibiotic in the extender, or nobody said: a withdrawal period may keep the served sow from slaughter. Follow the label, the veterinarian and local rules.
serve-which = Which sow?
serve-left = { $n } left of { $code }
serve-doses = Doses
serve-sow = Sow { $number }
serve-new-sow = New sow { $number }
serve-too-many = Only { $n } left of this batch. Take fewer, or another batch.
serve-done = Done
forbids-veterinarian = Veterinarian first; the boar goes off collection.
rule-motile-kept = Motility keeps { $bound } % by { $margin }.
rule-motile-missed = Motility misses { $bound } % by { $margin }.
rule-abnormal-kept = Abnormal keeps { $bound } % by { $margin }.
rule-abnormal-missed = Abnormal exceeds { $bound } % by { $margin }.
rule-droplets-kept = Droplets keep { $bound } % by { $margin }.
rule-droplets-missed = Droplets exceed { $bound } % by { $margin }.
rule-close = Too close to be sure: count more.
