### What is looked after, and teaching people.

## What is looked after
thing-quiet = Quiet
thing-dummy-clean = Dummy cleaned
thing-cup = Cup and warming
thing-stage = Stage temperature
thing-thermometer = Thermometer
thing-scale = Scale
thing-water = Water for the extender
look-footing = Dry, rough, nothing to stumble over.
look-dummy-stands = It does not rock, and its height fits the boars.
look-way-out = Board in its place. Gaps of 23 to 25 cm free to step through.
look-quiet = No noise, nobody passing.
look-dummy-clean = Washed after the last boar, and dry.
look-cup = Cup and bag clean. The warmer holds 37 to 38 °C.
look-stage = It holds 37 °C by a thermometer of its own.
look-thermometer = It agrees with a second one, or reads 0 °C in melting ice.
look-scale = A weight you know reads right.
look-water = Below 5 µS/cm, or as the extender's label asks.
found-fine = Fine
found-not-fine = Not fine
checks-all = All that is looked after
checks-done = Nothing is due
checks-done-why = Tap one below to look at it again.
checks-later = Later
checks-since = to look at since { $day }
checks-till = fine, again { $day }
checks-never = nobody has looked yet
checks-mend = Nobody goes in before it is mended.
checks-why = The farm standard says after how many days each is due. Local rules come first.

## Teaching people
work-collection = Collecting
work-training = Training boars

## Log
kind-check = Check
kind-supervised = Under supervision
kind-sign-off = Sign-off
log-with = { $work } under { $name }
log-signed-off = { $work }, signed off by { $name }

## People: supervision and sign-off
teach = Supervision and sign-off
teach-why = A supervisor signs off, never the count alone. The farm standard says how often is asked for; local rules and licensed practice come first.
teach-who = Who learns?
teach-work = Which work?
teach-by = Who stands by and signs?
teach-sign = Sign off
teach-count = Count one under supervision
teach-take-back = Take the sign-off back
teach-alone = Nobody signs himself off: add another person first.
teach-counted = { $n } of { $all } under supervision
teach-signed-by = signed off by { $name }

## Farm standard
standard-check-area = Look at the area again after
standard-check-dummy = Clean the dummy again after
standard-check-cup = Look at cup and warming again after
standard-check-stage = Read the stage's temperature again after
standard-check-thermometer = Compare the thermometer again after
standard-check-scale = Check the scale again after
standard-check-water = Check the water again after
standard-check-why = 0 where the farm has none. Common practice; no printed source.
standard-supervised = Under supervision before a sign-off
standard-supervised-why = Common practice; no printed source. The supervisor decides.
