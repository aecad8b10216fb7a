# Training young boars.

lesson-visit = Visita
lesson-session = Sesión
score-0 = Sin interés
score-1 = Olfatea
score-2 = Agresivo
score-3 = Monta el potro
score-4 = Desenvaina
score-5 = Extraído
score-unsaid = puntuación sin decir
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

boar-train = Sesión con el potro
boar-train-go-on = Seguir con la sesión
boar-trainings = Último adiestramiento
training-title = Adiestrar
training-summary = { $n ->
    [0] Hoy no le toca a nadie.
    [one] Hoy le toca a { $n }.
   *[other] Hoy les toca a { $n }.
}
training-nobody = Nadie aprende ahora. Aquí sale quien aún no había trabajado al anotarlo.
training-due = Hoy, en este orden
training-waiting = Hechos o en descanso
training-not-yet = Todavía no
training-two = dos personas
boar-two-people = Entran dos personas.
training-in-seven = { $n ->
    [one] { $n } sesión en siete días
   *[other] { $n } sesiones en siete días
}
training-scores = Puntuaciones: { $scores }
training-picture = Sus sesiones hasta ahora, la puntuación de cada una, de 0 a 5:
training-visits = Primero visitas
training-visits-why = { $n ->
    [0] Aún sin visitas. Que conozca el corral y a la gente, de 5 a 10 min al día.
    [one] Visitado { $n } día. Las sesiones empiezan cuando esté tranquilo.
   *[other] Visitado { $n } días. Las sesiones empiezan cuando esté tranquilo.
}
training-goes = Aprende
training-goes-why = { $n ->
    [one] { $n } sesión desde { $day }. La mejor, { $best }.
   *[other] { $n } sesiones desde { $day }. La mejor, { $best }.
}
training-repeats = Práctica
training-repeats-why = Primer éxito: { $day }.
training-next = Siguiente: { $day }.
training-settles = Sin afianzar
training-settles-why = Primer éxito: { $day }, y nada desde entonces.
training-again = Otra vez a adiestrar
training-again-why = Desde { $day } no lo hace. La mejor desde entonces: { $best }.
training-double = Dos anotaciones de adiestramiento en una hora, quizá una sesión anotada dos veces.
turn-planned = hoy practica
turn-free = le toca
turn-waits = hasta { $day }
turn-done = hecho hoy

advice-two-people = Entran dos personas: { $what }, { $day }.
advice-had-today = Ya tuvo su sesión hoy. Una al día.
advice-hot = Hoy pasó calor. Descansa hasta mañana.
advice-rest = { $n } sesiones seguidas sin interés. Descanso hasta { $day }.
advice-falling = Sus puntuaciones bajan: { $scores }. ¿Cojea, tiene calor, tiene miedo?
advice-mishap = La última vez: { $what }. Empiece con suavidad.
advice-slow = { $days } días, { $n } sesiones, la mejor { $best }. Muchos aprenden en 2 a 4 semanas; según lo publicado, de 3 a 5 de cada 100 nunca. Nada dice con certeza cuál es él.

train-title = Adiestrar a { $number }
train-quiet = En silencio y sin brusquedad. Hoy, { $n } min como máximo.
train-early = ¿Por qué tan joven?
train-early-why = Por debajo de la edad de la granja, o de edad desconocida. Los empezados a los 160 días dieron del todo a los 13 o 14 meses; los empezados a los 190 días, a los 10 u 11 (un ensayo, 2001). Si les cuesta de por vida se discute. Un operario con experiencia sigue, y da el motivo.
train-go-session = Empezar la sesión
train-go-visit = Empezar una visita
train-after-session = Ya se adiestró: anotar
train-after-visit = Ya se visitó: anotar
train-shake = Cuando baste
train-shake-chip = Vibrar
train-shake-why = Vibra solo si alguien tocó que está en el suelo.
train-drop = Descartar
train-other-open = Hay una sesión abierta del verraco { $number }.
train-over = Ya está fuera
train-helper-taps = Un ayudante puede tocar lo que hace. No hace falta tocar nada.
sight-down = Se baja
sign-go-on = Siga
sign-go-on-why = Como máximo { $n } min.
sign-mounted = Montado
sign-mounted-why = Déjelo. Nadie lo interrumpe, tampoco pasados { $n } min.
sign-aggressive-why = La tabla entre usted y él. Si muerde o embiste: fuera.
sign-enough-if = ¿Basta?
sign-enough-if-idle-why = { $n } min. Basta por hoy si no muestra interés.
sign-enough-if-down-why = { $n } min. Basta por hoy si no está montado.
sign-enough = Basta por hoy
sign-enough-why = Sáquelo sin ruido. El límite es de { $n } min.
train-how-far = ¿Hasta dónde?
train-how-long = ¿Cuánto duró?
train-clock-ran = El reloj corrió { $span }. Ninguna sesión dura tanto.
train-not-timed = Nadie miró
train-minutes-odd = { $n } min es más de una hora. ¿Es correcto?
train-when = ¿Qué día?
train-touch = ¿Se dejó tocar?
train-lures = ¿Qué lo atrajo?
train-helper = ¿Quién ayudó?
train-counts = En su descanso cuenta como una extracción.
today-training = { $n ->
    [0] Adiestrar
    [one] Adiestrar a { $n } hoy
   *[other] Adiestrar a { $n } hoy
}
unit-min = min
