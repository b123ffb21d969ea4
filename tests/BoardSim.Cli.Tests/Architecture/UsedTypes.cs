using System.Collections.Immutable;
using System.Reflection.Metadata;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>Collects the types behind metadata tokens and signatures.</summary>
internal sealed class UsedTypes(MetadataReader reader, string assembly) : ISignatureTypeProvider<bool, bool>
{
    private HashSet<(string Assembly, string Type)> found = [];

    /// <summary>What has been found since the last call.</summary>
    public HashSet<(string Assembly, string Type)> Take()
    {
        var taken = found;
        found = [];
        return taken;
    }

    /// <summary>Adds the type that a token is, is a member of, or is made of; interfaces have no base type to add.</summary>
    public void Add(EntityHandle handle)
    {
        if (handle.IsNil)
        {
            return;
        }

        switch (handle.Kind)
        {
            case HandleKind.TypeDefinition:
                found.Add((assembly, MetadataNames.Outermost(reader, (TypeDefinitionHandle)handle)));
                break;
            case HandleKind.TypeReference:
                AddReference((TypeReferenceHandle)handle);
                break;
            case HandleKind.TypeSpecification:
                reader.GetTypeSpecification((TypeSpecificationHandle)handle).DecodeSignature(this, true);
                break;
            case HandleKind.MethodDefinition:
                Add(reader.GetMethodDefinition((MethodDefinitionHandle)handle).GetDeclaringType());
                break;
            case HandleKind.FieldDefinition:
                Add(reader.GetFieldDefinition((FieldDefinitionHandle)handle).GetDeclaringType());
                break;
            case HandleKind.MemberReference:
                Add(reader.GetMemberReference((MemberReferenceHandle)handle).Parent);
                break;
            case HandleKind.MethodSpecification:
                var method = reader.GetMethodSpecification((MethodSpecificationHandle)handle);
                Add(method.Method);
                method.DecodeSignature(this, true);
                break;
        }
    }

    public bool GetTypeFromDefinition(MetadataReader reader, TypeDefinitionHandle handle, byte rawTypeKind) => Added(handle);

    public bool GetTypeFromReference(MetadataReader reader, TypeReferenceHandle handle, byte rawTypeKind) => Added(handle);

    public bool GetTypeFromSpecification(MetadataReader reader, bool genericContext, TypeSpecificationHandle handle, byte rawTypeKind) => Added(handle);

    public bool GetArrayType(bool elementType, ArrayShape shape) => true;

    public bool GetByReferenceType(bool elementType) => true;

    public bool GetFunctionPointerType(MethodSignature<bool> signature) => true;

    public bool GetGenericInstantiation(bool genericType, ImmutableArray<bool> typeArguments) => true;

    public bool GetGenericMethodParameter(bool genericContext, int index) => true;

    public bool GetGenericTypeParameter(bool genericContext, int index) => true;

    public bool GetModifiedType(bool modifier, bool unmodifiedType, bool isRequired) => true;

    public bool GetPinnedType(bool elementType) => true;

    public bool GetPointerType(bool elementType) => true;

    public bool GetPrimitiveType(PrimitiveTypeCode typeCode) => true;

    public bool GetSZArrayType(bool elementType) => true;

    private bool Added(EntityHandle handle)
    {
        Add(handle);
        return true;
    }

    private void AddReference(TypeReferenceHandle handle)
    {
        var type = reader.GetTypeReference(handle);
        if (type.ResolutionScope.Kind == HandleKind.TypeReference)
        {
            AddReference((TypeReferenceHandle)type.ResolutionScope);
        }
        else if (type.ResolutionScope.Kind == HandleKind.AssemblyReference)
        {
            var from = reader.GetAssemblyReference((AssemblyReferenceHandle)type.ResolutionScope);
            found.Add((reader.GetString(from.Name), MetadataNames.Full(reader, type.Namespace, type.Name)));
        }
    }
}
