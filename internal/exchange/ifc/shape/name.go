package shape

import "strings"

// Name returns an entity type as the schemas write it, IfcWall for IFCWALL.
// Types that the reader has nothing to say about stay in capitals.
func Name(keyword string) string {
	if name, ok := names[keyword]; ok {
		return name
	}
	return keyword
}

var names = func() map[string]string {
	m := map[string]string{}
	for name := range strings.FieldsSeq(`
		IfcWall IfcWallStandardCase IfcWallElementedCase IfcCurtainWall
		IfcOpeningElement IfcOpeningStandardCase IfcVoidingFeature IfcEdgeFeature
		IfcDoor IfcDoorStandardCase IfcWindow IfcWindowStandardCase
		IfcSpace IfcColumn IfcColumnStandardCase IfcSlab IfcSlabStandardCase IfcSlabElementedCase IfcRoof
		IfcBeam IfcBeamStandardCase IfcMember IfcMemberStandardCase IfcPlate IfcPlateStandardCase
		IfcCovering IfcRailing IfcRamp IfcRampFlight IfcStair IfcStairFlight IfcFooting IfcPile
		IfcFurnishingElement IfcFurniture IfcBuildingElementProxy IfcBuildingElementPart IfcElementAssembly
		IfcFlowTerminal IfcFlowSegment IfcFlowFitting IfcDistributionElement IfcChimney IfcShadingDevice
		IfcProject IfcSite IfcBuilding IfcBuildingStorey IfcBuildingElement IfcRelVoidsElement IfcRelFillsElement
		IfcLocalPlacement IfcGridPlacement IfcLinearPlacement IfcAxis2Placement2D IfcAxis2Placement3D
		IfcCartesianTransformationOperator2D IfcCartesianTransformationOperator3D
		IfcCartesianTransformationOperator3DnonUniform IfcProductDefinitionShape IfcShapeRepresentation
		IfcMappedItem IfcRepresentationMap IfcExtrudedAreaSolid IfcExtrudedAreaSolidTapered IfcRevolvedAreaSolid
		IfcSurfaceCurveSweptAreaSolid IfcFixedReferenceSweptAreaSolid IfcSweptDiskSolid IfcSectionedSolidHorizontal
		IfcBooleanResult IfcBooleanClippingResult IfcHalfSpaceSolid IfcPolygonalBoundedHalfSpace IfcBoxedHalfSpace
		IfcCsgSolid IfcBlock IfcRightCircularCylinder IfcRightCircularCone IfcSphere IfcRectangularPyramid
		IfcFacetedBrep IfcFacetedBrepWithVoids IfcAdvancedBrep IfcAdvancedBrepWithVoids
		IfcShellBasedSurfaceModel IfcFaceBasedSurfaceModel IfcClosedShell IfcOpenShell IfcConnectedFaceSet IfcFace
		IfcTriangulatedFaceSet IfcPolygonalFaceSet IfcBoundingBox IfcGeometricSet IfcGeometricCurveSet IfcPlane
		IfcPolyline IfcTrimmedCurve IfcCompositeCurve IfcIndexedPolyCurve IfcLine IfcCircle IfcEllipse
		IfcBSplineCurve IfcBSplineCurveWithKnots IfcRationalBSplineCurveWithKnots IfcOffsetCurve2D
		IfcRectangleProfileDef IfcRoundedRectangleProfileDef IfcRectangleHollowProfileDef IfcCircleProfileDef
		IfcCircleHollowProfileDef IfcEllipseProfileDef IfcArbitraryClosedProfileDef IfcArbitraryProfileDefWithVoids
		IfcArbitraryOpenProfileDef IfcCenterLineProfileDef IfcCompositeProfileDef IfcDerivedProfileDef
		IfcMirroredProfileDef IfcTrapeziumProfileDef IfcIShapeProfileDef IfcAsymmetricIShapeProfileDef
		IfcCShapeProfileDef IfcLShapeProfileDef IfcTShapeProfileDef IfcUShapeProfileDef IfcZShapeProfileDef`) {
		m[strings.ToUpper(name)] = name
	}
	return m
}()
