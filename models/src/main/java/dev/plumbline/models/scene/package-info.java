/** Scenes in text, their pieces and their culling boxes. */
package dev.plumbline.models.scene;
