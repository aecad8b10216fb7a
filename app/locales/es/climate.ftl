# Qué calor hace donde están los verracos. Pantallas de oficina.

unit-hours = h
standard-points = puntos
standard-regular = Días regulares de una extracción a la siguiente
standard-regular-why = En lo publicado: descanso de 3 a 7 días, o una o dos veces por semana.
standard-regular-young = Días regulares de un verraco de menos de un año
standard-regular-young-why = Práctica común; sin fuente impresa.
standard-hot-thi = Calor desde este índice de temperatura y humedad
standard-hot-thi-why = En 75 empieza «alerta». Las bandas se hicieron para vacuno; no conocemos ninguna hecha para verracos.
standard-hot-celsius = Calor desde esta temperatura, sin humedad
standard-hot-celsius-why = Con más de 27 °C durante dos a cuatro días la reproducción se resiente. Los ensayos con verracos los calentaron a 33–38 °C.
standard-hot-hours = Un día es de calor con tantas horas de calor
standard-hot-hours-why = Práctica común; sin fuente impresa.

## Hoy
heat-hot = Calor
heat-not-hot = Sin calor
heat-not-known = No se sabe
climate-hot-today = ¿Calor hoy?
climate-nobody = Nadie lo leyó
climate-nobody-why = Lea el termómetro entre las doce y las seis, o traiga el archivo del registrador.
climate-not-known-why = Se leyó demasiado poco para saberlo: mire otra vez entre las doce y las seis.
climate-warmest = { $room }, { $when }: { $air }.
climate-degrees = { $air } °C
climate-damp = { $humidity } %, índice { $index }: { $band }
climate-cool-how = Ventiladores, laterales abiertos, goteo o aspersión sobre la piel, agua fresca para beber. Extraiga con el fresco de la mañana.
climate-enter = Anotar una lectura
climate-fresh = Leído en las últimas horas
climate-many =
    { $n ->
        [one] { $room }: una lectura de un registrador
       *[other] { $room }: { $n } lecturas de un registrador
    }
band-normal = sin aviso
band-alert = alerta
band-danger = peligro
band-emergency = emergencia

## Lo que sigue
climate-spells = Rachas de calor
climate-spell = Del { $from } al { $to } · días de calor: { $hot }
level-tolerated = Menos de cuatro días de calor se toleran.
level-attention = Quizá la calidad sea peor del { $from } al { $to }.
level-expected = Espere peor calidad del { $from } al { $to }.

## Los últimos días
climate-last-days = Los últimos días
climate-chart = Lo más alto de cada día, de { $low } °C abajo a { $high } °C arriba. Línea de trazos: { $limit } °C. Puntos: días de calor. Una raya corta: un día leído suelto.
climate-day = Día
climate-celsius = °C
climate-index = Índice
climate-hours = h calor
climate-unread = nadie lo leyó
climate-table-why = °C: de lo más bajo a lo más alto. Índice: el más alto, con su banda. h calor: horas de calor de las conocidas.

## Cómo
climate-how = Cómo se dice
climate-limits =
    { $hours ->
        [one] Una hora es de calor desde el índice { $index }, o desde { $air } °C si no se leyó la humedad. Un día es de calor con una hora de calor, o con una lectura a mano de calor. Los tres los fija la norma de la granja.
       *[other] Una hora es de calor desde el índice { $index }, o desde { $air } °C si no se leyó la humedad. Un día es de calor con { $hours } horas de calor, o con una lectura a mano de calor. Los tres los fija la norma de la granja.
    }
climate-bands = Las bandas (alerta desde 75, peligro desde 79, emergencia desde 84) se hicieron para vacuno. No conocemos bandas hechas para verracos.
climate-sources = Los espermatozoides que se formaban en un día de calor se extraen de dos a seis semanas después. Menos de cuatro días de calor se toleran; más de siete, no (ensayos a 33–38 °C). Las fuentes discrepan en el final: algunas dicen siete semanas.

## Anotar
climate-which-room = ¿Qué sala?
climate-room = Sala
climate-room-new = Otra sala
climate-room-name = Nombre de la sala
climate-room-take = Usar este nombre
climate-go-on = Seguir
climate-stop = No anotar nada
climate-how-warm = ¿Qué temperatura?
climate-how-cold = ¿Cuántos bajo cero?
climate-below-zero = Está bajo cero
climate-above-zero = Está sobre cero
climate-unit = { $read }: ¿°C o °F?
climate-unit-why = { $read } °F son { $celsius } °C. ¿Está el termómetro en °F?
climate-is-f = °F: anotar { $celsius } °C
climate-is-c = Son { $read } °C
climate-how-damp = ¿Qué humedad?
climate-how-damp-why = Humedad relativa, si el termómetro la muestra.

## Un archivo de registrador
climate-file = De un registrador
climate-file-choose = El archivo del registrador
climate-file-why = Un CSV con una línea de títulos y una línea por lectura; hasta 20 MB. Nada se escribe antes de que usted lo diga; el mismo archivo dos veces no cambia nada.
climate-file-busy = La oficina lee el archivo …
climate-empty = El archivo no tiene filas. Exporte las lecturas de nuevo y elija ese archivo.
climate-too-many-rows = El archivo tiene demasiadas filas. Divídalo y traiga las partes una tras otra.
climate-no-temperature = Ninguna columna nombra la temperatura. Diga abajo cuál es.
climate-no-time = Ninguna columna nombra la hora. Diga abajo cuál es.
climate-field-stamp = Fecha y hora
climate-field-date = Fecha
climate-field-clock = Hora del día
climate-field-temperature = Temperatura
climate-field-humidity = Humedad
climate-fahrenheit = °F
climate-ask-room = ¿En qué sala colgaba el registrador?
climate-ask-unit = Las temperaturas van de { $low } a { $high }. ¿En qué unidad?
climate-ask-proportion = La columna «{ $column }» nunca pasa de { $high }. ¿Es 0,65 una humedad del 65 %?
climate-ask-clock = La línea { $line } dice { $read }, una hora que el reloj de la granja se saltó. ¿Qué reloj sigue el registrador?
climate-clock-winter = Hora de invierno todo el año
climate-clock-farm = El reloj de la granja
climate-room-days =
    { $n ->
        [one] Un día, { $from }
       *[other] { $n } días, del { $from } al { $to }
    }
climate-fate-new =
    { $n ->
        [one] un día es nuevo
       *[other] { $n } días son nuevos
    }
climate-fate-adds =
    { $n ->
        [one] un día se completa
       *[other] { $n } días se completan
    }
climate-fate-same =
    { $n ->
        [one] un día ya está
       *[other] { $n } días ya están
    }
climate-fate-changed =
    { $n ->
        [one] una media hora quedará como en el archivo
       *[other] { $n } medias horas quedarán como en el archivo
    }
climate-read-rows =
    { $rows ->
        [one] Se leyó una fila, { $taken } tomadas.
       *[other] Se leyeron { $rows } filas, { $taken } tomadas.
    }
climate-read-celsius = Leído como °C.
climate-read-fahrenheit = Leído como °F, guardado en °C.
climate-read-farm-clock = Las horas se leen según el reloj de la granja.
climate-read-offset = Las horas se leen como { $offset } todo el año.
climate-odd-blank =
    { $n ->
        [one] Una fila no tiene temperatura.
       *[other] { $n } filas no tienen temperatura.
    }
climate-odd-doubled =
    { $n ->
        [one] Una fila está dos veces; queda fuera.
       *[other] { $n } filas están dos veces; quedan fuera.
    }
climate-odd-conflicts =
    { $n ->
        [one] Una hora está dos veces y dice dos cosas; vale la línea posterior.
       *[other] { $n } horas están dos veces y dicen dos cosas; vale la línea posterior.
    }
climate-odd-gaps =
    { $n ->
        [one] Un hueco sin lecturas.
       *[other] { $n } huecos sin lecturas.
    }
climate-odd-stuck =
    { $n ->
        [one] Un valor no cambió en un día o más: mire si el sensor está parado. Se toma.
       *[other] { $n } valores no cambiaron en un día o más: mire si el sensor está parado. Se toman.
    }
climate-odd-refused =
    { $n ->
        [one] Una celda no se puede tomar: línea { $lines }.
       *[other] { $n } celdas no se pueden tomar: líneas { $lines } …
    }
climate-take =
    { $n ->
        [one] Tomar un día
       *[other] Tomar { $n } días
    }
climate-nothing-new = Ya está todo: no hay nada que tomar.
climate-taken =
    { $days ->
        [0] Nada cambió.
        [one] Se tomó un día, con { $readings } medias horas.
       *[other] Se tomaron { $days } días, con { $readings } medias horas.
    }
