### El trabajo paso a paso, para quien lo aprende.

learn = Aprender el trabajo
learn-why = Un paso por pantalla. Apréndalo junto a alguien con visto bueno.
learn-collection = La extracción, paso a paso
learn-training = Adiestrar un verraco, paso a paso
learn-practice = Practicar en las pantallas
learn-practice-why = Las pantallas de una extracción, sin verraco. Nada va al registro.
learn-step = Paso { $n } de { $all }
learn-next = Seguir
learn-before = Atrás
learn-over = Eso es todo
learn-over-why = Léalo otra vez, o practique en las pantallas.
learn-again = Desde el principio
learn-read = Leer en voz alta
learn-quiet = Dejar de leer
learn-here-rich = En esta granja, no.
learn-here-poor = En esta granja, sí.

## La extracción
learn-ready = Téngalo listo
learn-ready-says = Vaso y bolsa a 37–38 °C, filtro puesto, diluyente calentándose. Todo al alcance de una mano. Toallita seca. Una mano sujeta, la otra lleva el vaso. Teléfono guardado, o toca un ayudante.
learn-gloves = Dos guantes
learn-gloves-says = Dos en la mano que sujeta; el de fuera se quita antes de sujetar. Nunca látex: mata los espermatozoides.
learn-way-out = La salida
learn-way-out-says = Sepa por dónde sale antes de que entre. El hueco libre, la tabla en su sitio.
learn-caution = Antes de que entre
learn-stand = Dónde ponerse
learn-stand-says = A su costado, con el hueco justo detrás. Nunca delante de su cabeza, nunca con barrotes cerrados detrás.
learn-mounts = Él monta
learn-mounts-says = Deje que huela y empuje el potro. Usted, quieto. Nadie grita.
learn-sheath = El prepucio
learn-sheath-says = Vacíelo con la mano, lejos del vaso, y séquelo. Luego quítese el guante de fuera.
learn-hand = Antes de meter la mano
learn-hand-says = ¿Está libre su salida? ¿Está tranquilo? Si no está adiestrado: ¿hay otra persona con usted? Un solo no: retire las manos y salga.
learn-grip = El agarre
learn-grip-says = Firme y constante en la punta, sin soltar: es la sujeción, y desde ella cuenta el tiempo. Él se extiende solo: no tire. Si se echa atrás, abra la mano al instante.
learn-pre-says = Clara, sale primero. Déjela caer; vaso aparte.
learn-rich-says = Blanca. Ponga el vaso.
learn-poor-says = Acuosa. La granja dice si va al vaso.
learn-gel-says = Granos, a veces pronto. Las oleadas se repiten. El filtro retiene el gel.
learn-end = El final
learn-end-says = Mantenga el agarre hasta que se ablande y se retire, unos 5 a 7 minutos desde el agarre. Entonces abra la mano y apártese antes de que baje. Nunca le meta prisa.
learn-out = Fuera
learn-out-says = El vaso a salvo y caliente. Salga por su salida, de cara a él. Quite el filtro antes del laboratorio.

## Adiestrar un verraco
learn-two = Dos personas
learn-two-says = Una trabaja con el verraco. La otra queda al lado, con la tabla.
learn-area = El sitio
learn-area-says = Silencio. Suelo seco. El potro firme y a su altura. La salida libre. Dos guantes puestos, un vaso caliente a mano.
learn-arrive = Deje que llegue
learn-arrive-says = De 5 a 10 minutos para mirar y oler, más si no conoce a la gente. Sin prisa, sin mano dura.
learn-lure = Algo que quiera
learn-lure-says = Olor de cerda en el potro, u otro verraco trabajando a la vista.
learn-score = Hasta dónde llega
learn-score-says = 0 sin interés, 1 olfatea, 2 agresivo, 3 monta, 4 extiende, 5 extraído.
learn-up = Está arriba
learn-up-says = Ahora silencio. No lo asuste.
learn-up-grip-says = Si se deja tocar el prepucio, vacíelo y séquelo. Fuera el guante de encima; después, el agarre como en una extracción. Si se echa atrás, abra la mano al instante.
learn-bites = Muerde o embiste
learn-bites-says = La tabla entre ustedes y él. Salgan los dos. Ya fuera, anótelo.
learn-enough = Basta por hoy
learn-enough-says = Termine como mucho a los 15 o 20 minutos, antes si no muestra interés. Nunca mientras está montado.
learn-after = Tras el primer éxito
learn-after-says = Otra vez los días siguientes, según el ritmo de la granja. Las fuentes nombran dos ritmos; la granja elige.
