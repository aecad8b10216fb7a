### The work step by step, for whoever learns it.

learn = Learn the work
learn-why = One step a screen. Learn it beside somebody who is signed off.
learn-collection = Collecting, step by step
learn-training = Training a boar, step by step
learn-practice = Practise on the screens
learn-practice-why = The screens of a collection, without a boar. Nothing goes into the log.
learn-step = Step { $n } of { $all }
learn-next = Next
learn-before = Back
learn-over = That was all
learn-over-why = Read it again, or practise on the screens.
learn-again = From the start
learn-read = Read aloud
learn-quiet = Stop reading
learn-here-rich = On this farm it does not.
learn-here-poor = On this farm it does.

## Collecting
learn-ready = Have it ready
learn-ready-says = Cup and bag at 37–38 °C, filter on, extender warming. All in reach of one hand. Dry wipe. Grip with one hand, cup in the other. Phone away, or a helper taps.
learn-gloves = Two gloves
learn-gloves-says = Two on the hand that grips; the outer one comes off before the grip. Never latex: it kills sperm.
learn-way-out = The way out
learn-way-out-says = Know where you step through before he comes in. Gap free, board in its place.
learn-caution = Before he comes in
learn-stand = Where to stand
learn-stand-says = At his flank, the gap right behind you. Never in front of his head, never with closed bars behind you.
learn-mounts = He mounts
learn-mounts-says = Let him smell and push the dummy. You stand still. Nobody shouts.
learn-sheath = The sheath
learn-sheath-says = Empty it by hand, away from the cup, and wipe it dry. Then strip the outer glove.
learn-hand = Before the hand goes in
learn-hand-says = Is your way out free? Is he calm? If he is untrained: is a second person with you? One no: hands away, step out.
learn-grip = The grip
learn-grip-says = Firm and steady round the tip, without a break: that is the lock-on, time counts from it. He extends by himself: do not pull. If he backs off, open your hand at once.
learn-pre-says = Clear, comes first. Let it run off; keep the cup away.
learn-rich-says = White. Cup under it now.
learn-poor-says = Watery. The farm says whether it goes into the cup.
learn-gel-says = Beads, sometimes early; the waves repeat. The filter holds it back.
learn-end = The end
learn-end-says = Keep the grip till he goes soft and draws back, about 5 to 7 minutes from the grip. Then open the hand and step clear before he comes down. Never hurry him.
learn-out = Out
learn-out-says = Cup safe and warm. Leave by your way out, your face to him. Take the filter off before the laboratory.

## Training a boar
learn-two = Two people
learn-two-says = One works the boar. The other stands by with the sorting board.
learn-area = The area
learn-area-says = Quiet. Dry footing. The dummy steady and at his height. The way out free. Two gloves on, a warm cup in reach.
learn-arrive = Let him arrive
learn-arrive-says = 5 to 10 minutes to look and smell, longer if people are new to him. No hurry, no rough hand.
learn-lure = Something he wants
learn-lure-says = The scent of a sow on the dummy, or another boar at work to watch.
learn-score = How far he comes
learn-score-says = 0 no interest, 1 sniffs, 2 aggressive, 3 mounts, 4 extends, 5 collected.
learn-up = He is up
learn-up-says = Quiet now. Do not startle him.
learn-up-grip-says = If he lets you touch the sheath, empty it and wipe it dry. Outer glove off, then the grip as in a collection. If he backs off, open your hand at once.
learn-bites = He bites or charges
learn-bites-says = Board between you and him. Both out by the way out. Once outside, write it down.
learn-enough = Enough for today
learn-enough-says = End by 15 to 20 minutes, sooner if he shows no interest. Never while he is mounted.
learn-after = After his first success
learn-after-says = Again on the next days, as the farm's rhythm says. Sources name two rhythms; the farm chooses.
