## May he be collected today?
stand-yes = Se puede extraer
stand-rests = Descanso: hasta { $day }
stand-third = Suficiente hasta { $day }
stand-off = Fuera de extracción
stand-young = Demasiado joven
stand-unknown = No se sabe
stand-gone = No está
stand-yes-last = Trabajó por última vez { $day }.
stand-yes-never = Aún no hay extracciones en el registro.
stand-yes-practice = Práctica tras su primer éxito.
stand-worked = Trabajó { $days }.
stand-young-why = Edad suficiente { $day }.
stand-off-until = { $reason }, { $ends }.
stand-gone-why = Salió de la granja { $day }.
stand-unknown-boar = Sus datos no han llegado a este teléfono.
stand-unknown-history = Nadie dijo cuándo trabajó por última vez. Pregunte y anótelo en sus datos.
stand-unknown-age = Falta su fecha de nacimiento.
stand-unknown-clock = Una anotación sobre él lleva fecha futura. Hágala corregir.
stand-idle-check = Parado { $n } días: compruebe el semen antes de usarlo.
stand-idle-clean-out = Parado { $n } días: el primer eyaculado es de limpieza.
stand-double = Dos extracciones en una hora, quizá una anotada dos veces.
stand-decided = Lo decide la anotación de { $when }.

off-ill = Enfermo
off-lame = Cojo
off-fever = Fiebre
off-treated = En tratamiento
off-injured = Herido
off-isolation = Aislamiento
off-blood-or-pus = Sangre o pus: primero el veterinario
off-cull = Para eliminar
off-other = Otro motivo
off-till = hasta { $day }
off-put-back = hasta que alguien lo reponga
off-veterinarian = hasta que lo diga el veterinario
off-till-veterinarian = hasta { $day }; después, pregunte al veterinario
off-more = Otro motivo más
off-cull-why = ¿Por qué se va a eliminar?
off-already = Ya está fuera: { $why }
off-none-at-all = Se anotó una baja desde { $from } que termina antes, { $until }: no lo deja fuera ningún día. Anótela de nuevo.

## Cuándo le toca
due-on = Le toca { $day }.
due-since = Le toca desde { $day }.
due-standard = Cada { $span }: norma de la granja.
due-young = Cada { $span } con menos de un año.
due-own = Cada { $span }: su propia recuperación.
due-repeats = Repetición tras su primer éxito.
fever-till = Vigilado por posibles daños hasta { $day }, tras la fiebre.
fever-open = Vigilado por posibles daños seis semanas desde que acabe la fiebre.
cull-output = Da poco
cull-quality = Mala calidad
cull-temper = Peligroso para las personas
cull-legs = Patas y pezuñas
cull-fertility = Las cerdas repiten o paren pocos
cull-age = Edad
cull-replaced = Hay mejores

## The boar's page
boar-title = Verraco { $number }
boar-of-pen = Corral { $pen }
boar-collect = Extraer
boar-collect-anyway = Extraer de todos modos
boar-go-on = Seguir con la extracción
boar-bad-moment = Mal momento
boar-mind = Cuidado
boar-danger = Peligro: { $what }, { $day }
boar-born = Nacido el { $day }, { $months } meses
boar-born-unknown = Fecha de nacimiento desconocida
boar-line = Línea { $line }
boar-ear = Crotal { $ear }
boar-last = Últimas extracciones
boar-edit = Datos
boar-say-history = Anotar cuándo trabajó por última vez
boar-say-age = Anotar su fecha de nacimiento
boar-move = Mover
boar-off = Poner fuera de extracción
boar-on = Volver a la extracción
boar-note = Nota
boar-notes = Notas
boar-same = Es el mismo que otro
boar-missing = No hay verraco en esta dirección. Quizá aún no llegó a este teléfono.
boar-recorded-by = por { $name }
boar-as-of = A fecha de { $when }
boar-as-of-never = Aún nada de la oficina
collected-volume = { $ml } mL
collected-no-volume = volumen no medido
collected-nothing-kept = nada recogido
collected-no-mount = no montó
collected-forbidden = no usar
collected-corrected = corregido
collected-rich = solo rica
collected-rich-and-poor = rica y pobre
collected-cup-unanswered = fracciones en el vaso sin decir

trouble-backed-off = Se retiró
trouble-slipped = Se soltó la mano
trouble-soft = Flojo
trouble-noise = Ruido
trouble-dirt = Suciedad en el vaso
trouble-filter = Filtro roto o caído
trouble-blood = Sangre
trouble-lame = Cojeó
trouble-hot = Acalorado
trouble-bite = Mordió
trouble-charge = Embistió
trouble-person-hurt = Persona herida
temper-calm = Tranquilo
temper-restless = Inquieto
temper-slow = Lento
temper-dangerous = Peligroso

## A pen's tag
pen-title = Corral { $pen }
pen-empty = Nadie en este corral
pen-empty-why = El registro no tiene verraco en el corral { $pen }.
pen-which = ¿Qué verraco?
pen-which-why = { $n } verracos en el corral { $pen }. Mire la oreja.
pen-move-in = Traer un verraco
pen-rename = La puerta dice ahora otra cosa
pen-name = Lo pintado en la puerta
tag-is-batch = Un lote de semen
tag-is-batch-why = Este código está en dosis, no en un corral.
tag-unknown = Etiqueta desconocida
tag-unknown-why = El código { $code } no lleva a ningún corral en este teléfono. Puede ser nuevo o de otra granja.
tag-bad = El código no se lee
tag-bad-why = { $read } no es un código de etiqueta: seis cifras, la última comprueba las demás.

## A collection
collect-title = Extraer a { $number }
collect-prepare = Antes de entrar
ready-extender = Diluyente calentándose
ready-cup = Vaso y bolsa 37–38 °C
ready-filter = Filtro puesto
ready-gloves = Guantes nuevos, dos en la mano que sujeta
ready-board = Tabla a mano
ready-exit = Salida libre
ready-second = Otra persona cerca
ready-sow-stands = La cerda está inmóvil
ready-sow-size = Es de su tamaño
ready-sow-held = Está arrinconada o sujeta
collect-caution = Un verraco puede herir y matar. Nunca le dé la espalda, nunca a solas con uno sin entrenar, nunca asuste a uno montado. Las normas locales y el veterinario van primero.
collect-glove = ¿Guante en la mano que sujeta?
collect-glove-is = Guante: { $glove }
collect-change = Cambiar
glove-vinyl = Vinilo
glove-nitrile = Nitrilo
glove-polyethylene = Polietileno
glove-latex = Látex
glove-none = Mano desnuda
glove-nitrile-word = Las fuentes discrepan sobre el nitrilo: pruebe antes este lote.
glove-latex-stop = El látex mata los espermatozoides
glove-latex-why = Tome otro guante antes de seguir.
collect-mount-is = Monta sobre: { $mount }
collect-which-sow = ¿Sobre qué cerda?
collect-no-sow-stands = Según el registro ninguna está en celo. Queda como «una cerda».
mount-dummy = Potro
mount-sow = Cerda
collect-despite = ¿Por qué contra el consejo?
despite-sows-wait = Esperan cerdas
despite-last-failed = Falló la última
despite-practice = Práctica
despite-veterinarian = Lo pidió el veterinario
despite-record-wrong = El registro está mal
collect-go-helper = Ya: toca un ayudante
collect-go-afterwards = Ya: anotar después
collect-under-helper = Extrayendo
collect-under-afterwards = Extráigalo ahora
collect-under-afterwards-why = Guarde el teléfono. Vuelva cuando el vaso esté a salvo.
collect-since = { $span } desde la sujeción
collect-since-start = { $span } desde el inicio
collect-long = Más de 15 min: basta
step-enters = Entra
step-mounts = Monta
step-lock-on = Sujeción
step-pre-sperm = Preespermática
step-sperm-rich = Rica
step-sperm-poor = Pobre
step-gel = Gel
step-end = Fin
step-not-timed = horas no tomadas
collect-undo = Deshacer { $step }
collect-cup-safe = Vaso a salvo
collect-nothing-kept = Nada recogido
collect-no-mount = No montó
collect-amount = ¿Cuánto hay en el vaso?
collect-amount-ml = Volumen
collect-amount-g = Peso
collect-amount-weigh = Mejor pesar
collect-amount-read = Mejor leer el volumen
collect-tare = Tara (vaso y bolsa)
collect-tare-too-high = La tara supera al peso. Pese juntos vaso, bolsa y semen y escriba después la tara de vaso y bolsa.
collect-amount-ok = Anotar
collect-amount-skip = No medido
collect-amount-odd = { $ml } mL queda fuera de los 50 a 500 mL habituales. ¿Es correcto?
collect-amount-right = Es correcto
collect-amount-again = Volver a escribir
collect-finish = ¿Cómo estuvo?
collect-trouble = ¿Problemas?
collect-cup-is = En el vaso: { $what }
collect-cup-ask = ¿Entró la fracción pobre en el vaso?
collect-save = Guardar
collect-saved = Guardado en este teléfono
collect-saved-why = { $number }: { $what }. Va solo a la oficina.
collect-to-bench = A la mesa
collect-back = Atrás
collect-stop = Descartar esta extracción
collect-begun-before = Esta extracción se empezó { $when }. ¿Es de ese día o lo extrae ahora?
collect-of-then = Es de ese día: seguir
collect-anew = Lo extraigo ahora: empezar de nuevo
collect-other-open = Hay una extracción abierta del verraco { $number }.
cannot-save = No guardado: { $why }

## The bad moment
bad-title = Mal momento
bad-charge = Embiste
bad-charge-do = La tabla entre usted y él. Retroceda hacia la salida, sin correr, sin girarse. Salga por el hueco. Déjele el corral.
bad-hurt = Hay una persona herida
bad-hurt-do = Primero fuera del corral. Apriete la herida que sangra. Llame a emergencias. Una mordedura necesita médico hoy.
bad-bleed = Sangra
bad-bleed-do = Suéltelo enseguida. Que baje solo, tranquilo y apartado. Tire el semen. Llame al veterinario.
bad-note = Las normas locales y el veterinario van primero.
bad-then = Después
bad-take-off = Ponerlo fuera de extracción

record-this-phone = solo en este teléfono
record-this-refused = no aceptado
collect-mount = ¿Sobre qué monta?

off-open = Sin fin
off-why = ¿Por qué?
off-how-long = ¿Cuánto tiempo?
move-nowhere = Fuera de los corrales
move-where = ¿Dónde está ahora?
move-gone = ¿Dejó la granja para siempre?
note-words = ¿Qué deben saber los demás?
same-why = El verraco { $number } se anotó dos veces. ¿Cuál es la otra anotación?
same-which = El mismo que

## Today
today-summary = { $n ->
    [one] { $n } verraco se puede extraer.
   *[other] { $n } verracos se pueden extraer.
}
today-waits = { $n ->
    [one] { $n } eyaculado espera en la mesa.
   *[other] { $n } eyaculados esperan en la mesa.
}
today-no-boars = Aún no hay verracos. Anote uno o traiga una lista.
today-silent = Nada de la oficina desde hace { $span }. No se muestra lo que otros hicieron desde entonces.
today-may = Se pueden extraer
today-late = Atrasados
today-due = Les toca
today-idle = Parados demasiado tiempo
today-early = Antes de tiempo
today-signals = { $n ->
    [one] { $n } aviso: mírelo
   *[other] { $n } avisos: mírelos
}
today-week = Los próximos siete días
today-unknown = No se sabe
today-rest = Descanso
today-off = Fuera de extracción, demasiado jóvenes

## Práctica, y trabajo con supervisión
practice = Práctica
practice-why = Nada de esto va al registro.
practice-over = Práctica terminada
practice-back = Volver a aprender
supervised-ask = ¿Quién estuvo al lado?
supervised-why = Cuenta para el visto bueno. Puede quedar vacío.
supervised-counted = Con { $name } al lado: { $n } de { $all } con supervisión.

## Lo que se cuida
today-checks = { $n ->
    [one] { $n } cosa por revisar
   *[other] { $n } cosas por revisar
}
today-checks-not-fine = { $n } mal
area-not-fine = { $what }: mal. Que nadie entre.
thing-footing = Suelo
thing-dummy-stands = Potro firme
thing-way-out = Salida

# En pantallas que esperan una respuesta
collect-waits-glove = Diga primero qué guante.
collect-waits-reason = Diga primero por qué va contra el consejo.
train-waits-reason = Diga primero por qué tan joven.
drop-sure = Toque otra vez: todo se pierde para siempre
answer-first = Responda primero a lo que se pregunta arriba.
