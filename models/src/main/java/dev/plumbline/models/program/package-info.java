/** Programs of a scene executor: operations, instruction words and memory files. */
package dev.plumbline.models.program;
