### La oficina. Las palabras llegan con sus pantallas.
