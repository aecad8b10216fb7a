### La mesa: evaluación, dosis, cerdas.

colour-milky = Lechoso
colour-cream = Crema
colour-watery = Aguado
colour-yellow = Amarillo
colour-pink = Rosado
colour-brown = Pardo
smell-normal = Normal
smell-urine = Orina
smell-foul = Mal olor

technique-intracervical = Cervical
technique-post-cervical = Poscervical
technique-deep-uterine = Intrauterina profunda
count-as-total = Todos
count-as-motile = Móviles
count-as-motile-normal = Móviles y normales
