### Lo que usa cada pantalla: lugares, estado de un registro, deshacer, días, unidades.


place-boar = Este verraco
place-today = Hoy
place-bench = Mesa
place-more = Más
place-nav = Lugares

save = Guardar
saving = Se está guardando: espere
yes = Sí
no = No
not-measured = sin medir
not-answered = sin respuesta
not-counted = sin contar
not-known = no se sabe
ask-how = ¿Cómo?
language-en = English
language-es = Español

undo = Deshacer

record-on-phone = { $n ->
    [0] Todo en la oficina
   *[other] { $n } en este teléfono
}
record-oldest = el más antiguo { $age }
record-not-accepted = { $n ->
    [one] { $n } no aceptado, mire
   *[other] { $n } no aceptados, mire
}

keypad-erase = Borrar
keypad-bounds = { $low } a { $high } { $unit }
keypad-too-low = Se leyó { $read } { $unit }; lo mínimo es { $low } { $unit }.
keypad-too-high = Se leyó { $read } { $unit }; lo máximo es { $high } { $unit }.
keypad-empty = Teclee un número
keypad-unfinished = Se leyó una coma; añada una cifra o bórrela.
stepper-less = Menos
stepper-more = Más


date-today = hoy
date-yesterday = ayer
date-tomorrow = mañana
date-on = el { $day }
date-day-month = { $day } de { $month }
date-weekday-day-month = { $weekday } { $date }
date-day-month-year = { $date } de { $year }

span-days = { $n ->
    [one] { $n } día
   *[other] { $n } días
}
span-hours = { $n } h
span-minutes = { $n } min
span-under-a-minute = menos de 1 min

day-monday = lunes
day-tuesday = martes
day-wednesday = miércoles
day-thursday = jueves
day-friday = viernes
day-saturday = sábado
day-sunday = domingo

month-january = enero
month-february = febrero
month-march = marzo
month-april = abril
month-may = mayo
month-june = junio
month-july = julio
month-august = agosto
month-september = septiembre
month-october = octubre
month-november = noviembre
month-december = diciembre

unit-ml = mL
unit-g = g
unit-million-per-ml = M/mL
unit-billion = mil millones
unit-days = días
unit-percent = %
unit-celsius = °C
unit-squares = cuadros
unit-sperm = espermatozoides

reading = Leyendo la granja …
office-full = El disco de la oficina está lleno. Lo anotado se conserva en este teléfono. Haga sitio allí; luego sigue solo.
phone-full = Este teléfono está lleno. Lo guardado está a salvo, pero lo nuevo de la oficina no cabe. Libere espacio en el teléfono; luego sigue solo.
office-other-version = La oficina usa otra versión de este programa. Lo anotado se conserva en este teléfono. Cierre la aplicación y ábrala de nuevo.
lost = Ninguna pantalla tiene esta dirección.
elsewhere = Aún no en este teléfono
elsewhere-why = Las pantallas de la mesa y de la oficina llegan por la red, poco después de las primeras. Abra esta página de nuevo cerca de la oficina; lo guardado está a salvo.
scan-title = Leer un corral
scan-asks = Si el teléfono pregunta, permita usar la cámara.
scan-hold = A medio metro de la etiqueta. Limpie los códigos.
scan-foreign = Ese código no es de una etiqueta. Sigue buscando.
scan-type = Escribir el código
scan-digits = Escriba las seis cifras de la etiqueta.
scan-no-code = No es un código de etiqueta. Borre y léalo otra vez.
scan-camera = Cámara
scan-again = Probar otra vez la cámara
scan-no-camera = Sin imagen
scan-refused = Esta página no puede usar la cámara. Escriba el código, o permita la cámara en los ajustes del navegador.
scan-missing = No se encontró ninguna cámara en este aparato. Escriba el código.
scan-busy = La cámara no arrancó, o la tomó otra aplicación. Ciérrela y pruebe otra vez, o escriba el código.
scan-not-secure = La cámara solo funciona en la dirección https de la granja. Ábrala, o escriba el código.
scan-not-loaded = El lector de etiquetas no se cargó. Pruebe otra vez cerca de la oficina, o escriba el código.
