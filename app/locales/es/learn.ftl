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
learn-ready-says = Vaso y bolsa a 37–38 °C, filtro puesto, diluyente calentándose. Todo al alcance de una mano.
learn-gloves = Dos guantes
learn-gloves-says = Dos en la mano que sujeta; el de fuera se quita antes de sujetar. Nunca látex: mata los espermatozoides.
learn-way-out = La salida
learn-way-out-says = Sepa por dónde sale antes de que entre. El hueco libre, la tabla en su sitio.
learn-caution = Antes de que entre
learn-stand = Dónde ponerse
learn-stand-says = A su costado, con la salida detrás de usted. Nunca ante su cabeza, nunca entre él y una pared.
learn-mounts = Monta
learn-mounts-says = Deje que huela y empuje. Quieto mientras monta. Nadie grita, nadie empuja.
learn-sheath = El prepucio
learn-sheath-says = Vacíelo con la mano, lejos del vaso, y séquelo. Luego quítese el guante de fuera.
learn-hand = Antes de meter la mano
learn-hand-says = ¿Salida libre? ¿Tranquilo? ¿No está a solas con uno sin entrenar? Si no, pare aquí.
learn-grip = El agarre
learn-grip-says = Firme y constante en la punta, sin soltar. Él se extiende solo: no tire. Si se echa atrás, suelte al instante.
learn-pre-says = Clara, y la primera. No va al vaso.
learn-rich-says = Blanca. Para ella es el vaso.
learn-poor-says = Acuosa. La granja dice si va al vaso.
learn-gel-says = Granos, a veces pronto; vuelve en oleadas. El filtro lo retiene.
learn-end = El final
learn-end-says = Sujete hasta que acabe y se suelte solo: unos 5 a 7 minutos desde la sujeción. Nunca le meta prisa para bajar.
learn-out = Fuera
learn-out-says = El vaso a salvo y caliente. Salga por su salida, de cara a él. El filtro fuera antes del laboratorio.

## Adiestrar un verraco
learn-two = Dos personas
learn-two-says = Nunca a solas con un verraco sin entrenar. Una lleva al verraco, otra lleva la tabla.
learn-area = El sitio
learn-area-says = Silencio. Suelo seco. El potro firme y a su altura. La salida libre.
learn-arrive = Deje que llegue
learn-arrive-says = De 5 a 10 minutos para mirar y oler, más si no conoce a la gente. Sin prisa, sin mano dura.
learn-lure = Algo que quiera
learn-lure-says = Olor de cerda en el potro, u otro verraco trabajando a la vista.
learn-score = Hasta dónde llega
learn-score-says = 0 sin interés, 1 olfatea, 2 agresivo, 3 monta, 4 extiende, 5 extraído.
learn-up = Está arriba
learn-up-says = Ahora silencio. No lo asuste. Sujete como en una extracción; si se echa atrás, suelte al instante.
learn-bites = Muerde o embiste
learn-bites-says = La tabla entre usted y él, y fuera por la salida. Anótelo: queda en su página para quien venga después.
learn-enough = Basta por hoy
learn-enough-says = Termine a los 15 o 20 minutos, antes si no muestra interés. Nunca mientras está montado.
learn-after = Tras el primer éxito
learn-after-says = Otra vez los días siguientes, según el ritmo de la granja. Las fuentes nombran dos ritmos; la granja elige.
