### Cómo entra un teléfono: su lado. El lado de la oficina está con la oficina.

role-barn = Granja
role-laboratory = Laboratorio
role-office = Oficina
role-barn-may = Extrae, prepara dosis, y cuida de verracos y cerdas.
role-laboratory-may = Lo mismo en el laboratorio, pero sin las cerdas.
role-office-may = Todo: ajustes, registro, listas, copias, otros teléfonos.

pair-unknown = Aún sin permiso
pair-this = Emparejar este teléfono
pair-refused-here = La oficina no conoce este teléfono. Lo anotado se conserva aquí. Emparéjelo.
pair-title = Entrar
pair-why = La oficina da entrada a cada teléfono una vez. Desde entonces anota también sin red.
pair-looking = Mirando si este teléfono se fía de la dirección de la granja …
pair-untrusted = Aún sin confianza
pair-untrusted-why = Este teléfono no se fía del certificado de la granja.
pair-untrusted-caution = Un aviso descartado solo parece seguro: otros en la red pueden leerlo todo, y este teléfono no guarda nada para trabajar sin red.
pair-untrusted-do = La oficina muestra una dirección simple que empieza por http. Ábrala en este teléfono: contiene los pasos. Instale la autoridad de la granja, dele confianza plena y vuelva aquí. Una ventana privada tampoco guarda nada: use una normal.
pair-look-again = Mirar otra vez
pair-home-screen = En un iPhone o iPad, ponga antes esta página en la pantalla de inicio: toque Compartir y luego Añadir a pantalla de inicio. Ábrala desde allí y emparéjela allí, con las ocho cifras. La app de la pantalla de inicio guarda sus propios registros y cookies; lo emparejado aquí no vale allí.
pair-name = ¿Cómo se llama este teléfono?
pair-name-why = La oficina busca este nombre y le dice que sí. { $bounds }
pair-name-offered = Teléfono { $n }
pair-digits = Escriba las ocho cifras que muestra la oficina.
pair-type = Escribir las cifras
pair-ask = Pedir entrada
pair-waiting = Espere
pair-waiting-why = Ahora diga que sí en la oficina: allí se ve el nombre de este teléfono, { $name }.
pair-refused = Rechazado
pair-refused-why = La oficina dijo que no. Pregunte allí y empiece de nuevo con otro código.
pair-over = Vencido
pair-over-why = Pasaron diez minutos, o la oficina se reinició. Que muestre un código nuevo.
pair-paired = Dentro
pair-paired-why = Este teléfono entró como: { $role }. { $may }
pair-again = Empezar de nuevo
pair-to-barn = A la granja

owner-is-me = Soy el dueño
owner-why = Con la frase de paso del dueño, este navegador se convierte en oficina.
owner-passphrase = La frase de paso del dueño
owner-passphrase-missing = Escriba primero la frase de paso.
owner-browser = ¿Cómo se llama este navegador?
owner-enter = Entrar como dueño
