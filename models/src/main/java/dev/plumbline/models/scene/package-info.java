/** Scenes as programs: operations, spans along a ray, traversal and timing. */
package dev.plumbline.models.scene;
