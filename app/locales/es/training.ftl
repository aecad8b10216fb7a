# El adiestramiento de verracos jóvenes.

lesson-visit = Visita
lesson-session = Sesión
score-0 = Sin interés
score-1 = Olfatea
score-2 = Agresivo
score-3 = Monta el potro
score-4 = Desenvaina
score-5 = Extraído
score-unsaid = puntuación sin decir
score-of = { $score }: { $what }
mishap-slip = Resbaló
mishap-rough = Trato brusco
touch-body = Se deja tocar el cuerpo
touch-sheath = Se deja tocar el prepucio
lure-sow-scent = Olor de cerda
lure-boar-scent = Olor de otro verraco
lure-others = Miró a otros
trained-not-timed = sin cronometrar
early-keen = Ya monta a sus compañeros
early-needed = Hace falta pronto
early-advised = Lo aconseja el veterinario o el criador
early-age-wrong = Fecha de nacimiento mala o ausente
