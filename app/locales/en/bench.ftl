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
